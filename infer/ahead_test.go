package infer

import (
	"math"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/quantity"
)

// foretold are the quantities scored one to four weeks after the last reading.
var foretold = []quantity.Measurand{
	quantity.OfNO3, quantity.OfNO2, quantity.OfTAN, quantity.OfPH, quantity.OfGH, quantity.OfKH, quantity.OfEC,
}

// tally is how beliefs did against the truth, of one quantity.
type tally struct {
	n, hit                   int
	width, crps, last, trend float64 // sums; the latter are the scores of the last value and of a trend
}

func (s *tally) take(draws []float64, truth float64, last, trend []float64) {
	slices.Sort(draws)
	lo, hi := at(draws, 0.1), at(draws, 0.9)
	s.n++
	if lo <= truth && truth <= hi {
		s.hit++
	}
	s.width += hi - lo
	s.crps += crps(draws, truth)
	s.last += crps(last, truth)
	s.trend += crps(trend, truth)
}

// crps is the continuous ranked probability score of equally likely sorted draws (Gneiting and Raftery
// 2007): the mean distance to the truth less half the mean distance of two draws.
func crps(sorted []float64, truth float64) float64 {
	n := float64(len(sorted))
	to, within := 0.0, 0.0
	for i, x := range sorted {
		to += math.Abs(x - truth)
		within += (2*float64(i) + 1 - n) * x
	}
	return to/n - within/(n*n)
}

// plainly is what a keeper without a model would say of a moment: the last reading with the scatter of
// readings about the one before (last value), and a line through the last eight (linear trend), each with
// normal doubt.
func (t *truth) plainly(m quantity.Measurand, when time.Time) (last, trend []float64) {
	var days, values []float64
	for _, p := range t.pairs {
		if p.m != m {
			continue
		}
		i := slices.IndexFunc(t.lines, func(l book.Line) bool { return l.ID == p.id })
		days = append(days, t.lines[i].At.Sub(when).Hours()/24)
		values = append(values, middleShown(p.r))
	}
	if len(days) > 8 {
		days, values = days[len(days)-8:], values[len(values)-8:]
	}
	n := len(days)
	if n < 3 {
		return nil, nil
	}
	jumps := 0.0
	for i := 1; i < n; i++ {
		jumps += square(values[i] - values[i-1])
	}
	spread := func(middle, sd float64) []float64 {
		out := make([]float64, 0, len(slices500))
		for _, z := range slices500 {
			x := middle + sd*z
			if m != quantity.OfPH {
				x = math.Max(x, 0)
			}
			out = append(out, x)
		}
		return out
	}
	last = spread(values[n-1], math.Sqrt(jumps/float64(n-1)))

	mx, my := 0.0, 0.0
	for i := range days {
		mx += days[i] / float64(n)
		my += values[i] / float64(n)
	}
	sxx, sxy := 0.0, 0.0
	for i := range days {
		sxx += square(days[i] - mx)
		sxy += (days[i] - mx) * (values[i] - my)
	}
	slope := sxy / sxx
	rest := 0.0
	for i := range days {
		rest += square(values[i] - my - slope*(days[i]-mx))
	}
	sd := math.Sqrt(rest / float64(n-2) * (1 + 1/float64(n) + mx*mx/sxx))
	return last, spread(my-slope*mx, sd)
}

// middleShown is the number that stands for a reading.
func middleShown(r book.Reading) float64 {
	lo, hi := r.Lo, r.Hi
	if hi >= r.Of.Span().Hi {
		hi = lo
	}
	return (lo + hi) / 2
}

// aheadKinds are the kinds of enclosure that are foretold.
var aheadKinds = []string{"plain", "faults", "planted", "soft", "washed"}

// TestAhead foretells weeks 27 to 30 of simulated enclosures, each by the readings of 26 weeks and the
// changes logged since. Over all kinds the 80 % band must hold the truth 70 % of the time, and the score be a
// quarter better than the better of last value and linear trend (total ammonia, nitrite and pH: no worse).
func TestAhead(t *testing.T) {
	if testing.Short() {
		t.Skip("some minutes under the race detector")
	}
	for k, s := range foretell(t, "as believed", Believe) {
		m, n := foretold[k], float64(s.n)
		plain := math.Min(s.last, s.trend)
		switch m {
		case quantity.OfTAN, quantity.OfNO2, quantity.OfPH:
			if s.crps > plain {
				t.Errorf("%s: CRPS %.3g, without a model %.3g", m.Label(), s.crps/n, plain/n)
			}
		default:
			if s.crps > 0.75*plain {
				t.Errorf("%s: CRPS %.3g, without a model %.3g: not a quarter better", m.Label(), s.crps/n, plain/n)
			}
		}
		if share := float64(s.hit) / n; share < leastAhead {
			t.Errorf("%s: %.0f %% of 80 %% bands hold the truth", m.Label(), 100*share)
		}
	}
}

// foretell scores a way to believe. Shown are, by kind: how often the 80 % band held the latent truth, its
// mean width, the CRPS beside that of the last value and of a linear trend.
func foretell(t *testing.T, name string, believe func(Window) (Belief, error)) []tally {
	pooled := make([]tally, len(foretold))
	for _, kind := range aheadKinds {
		scores := make([]tally, len(foretold))
		for i := range enclosuresAhead {
			e := newTruth(firstAhead+uint64(i), kind)
			e.foretell(t, 26, 1+i%4, believe, scores, pooled)
		}
		report(t, name+", "+kind, scores)
	}
	report(t, name+", all", pooled)
	return pooled
}

// foretell keeps and reads an enclosure for some weeks, then keeps it for ahead more that nobody reads, and scores
// what is believed at their end.
func (t *truth) foretell(tt *testing.T, read, ahead int, believe func(Window) (Belief, error), into ...[]tally) {
	tt.Helper()
	t.keep(read)
	t.untested = true
	t.keep(ahead)
	when := day0.AddDate(0, 0, 7*(read+ahead))
	b, err := believe(Window{Lines: t.lines, At: when, Recorded: when, Seed: 1})
	if err != nil {
		tt.Fatal(err)
	}
	s := t.state(0.2 * t.r.NormFloat64())
	for k, m := range foretold {
		last, trend := t.plainly(m, when)
		if last == nil {
			continue
		}
		draws := make([]float64, 0, len(b.Draws))
		for _, d := range b.Draws {
			x, _ := d.Of(m)
			draws = append(draws, x)
		}
		for _, scores := range into {
			scores[k].take(draws, s[m], last, trend)
		}
	}
}

func report(t *testing.T, name string, scores []tally) {
	t.Helper()
	for k, s := range scores {
		n := float64(s.n)
		t.Logf("%-22s %-28s %3.0f %% held, width %.3g, CRPS %.3g; last value %.3g, trend %.3g", name, foretold[k].Label(),
			100*float64(s.hit)/n, s.width/n, s.crps/n, s.last/n, s.trend/n)
	}
}

// firstAhead keeps these enclosures apart from those of other tests.
const firstAhead = 5000
