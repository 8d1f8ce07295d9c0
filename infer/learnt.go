package infer

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"halfwater/dynamics"
	"halfwater/infer/fit"
	"halfwater/quantity"
)

// Learnt is what an enclosure's readings say of its own constants, beside those borrowed from books.
type Learnt struct {
	Water    string
	From, To time.Time
	Readings int
	Values   []OwnValue // in the order of dynamics.Unknown
	// Tied are pairs that the readings do not tell apart: one may be more if the other is less (or more).
	Tied []TiedPair
	// The net slopes that they do tell, per week, at the end.
	NO3Rise quantity.Band[quantity.Nitrate]
	KHFall  quantity.Band[quantity.Alkalinity]
	// Bases are the odds of what each kit's numbers count, where neither card nor leaflet says.
	Bases []Meant
	// Sure is false when the search did not come to rest; the values are then a guide at most.
	Sure bool
	// Other is by how many nats (natural logarithms of odds) another account of the book is worse, +Inf when no
	// other was met. Below 3 both should be kept in mind.
	Other float64
}

// OwnValue is one constant by the book and by the enclosure.
type OwnValue struct {
	Of   dynamics.Unknown
	Book quantity.Band[float64]
	Own  quantity.Band[float64]
	// Told is how much narrower the own value is: 0 nothing learnt, 1 known exactly.
	Told float64
	// Moved is how far the middle went from the book, in standard deviations of the book's doubt.
	Moved float64
}

// TiedPair are two constants whose draws go together, with their correlation.
type TiedPair struct {
	A, B dynamics.Unknown
	By   float64
}

// tied is the correlation from which a pair counts as not told apart.
const tied = 0.6

var learning = fit.Effort{Draws: 400, Moves: 2, Scouts: 30, Bends: true}

// Learn fits whole histories to the readings of a window ([fit.Problem]) and tells what they say of the
// enclosure's own constants. It takes seconds, not milliseconds. It is a pure function of the window.
// Errors: [NoMoment], [NothingRead], [fit.ErrNoHistory], those of dynamics.Compile.
func Learn(w Window) (Learnt, error) { return LearnContext(context.Background(), w, nil) }

// LearnContext is [Learn] for who waits, as [BelieveContext] is [Believe].
func LearnContext(ctx context.Context, w Window, progress func(share float64)) (Learnt, error) {
	b, v, lines, err := believe(w)
	if err != nil {
		return Learnt{}, err
	}
	before, window := v.stages(lines, b.window, watched(ctx, progress))
	q, err := v.whole(lines, b.window, before)
	if err != nil {
		return Learnt{}, stoppedBy(ctx, err)
	}
	post, err := q.Solve(spent(learning, window), w.Seed)
	if err != nil {
		return Learnt{}, stoppedBy(ctx, err)
	}
	return q.learnt(b.Water, q.Course.From, w.At, &post), nil
}

// NothingRead is a window without a reading that a history could be held against.
type NothingRead struct{ From, To time.Time }

func (e NothingRead) Error() string {
	return fmt.Sprintf("no reading of the water from %s to %s; write one down", e.From.Format(time.DateOnly), e.To.Format(time.DateOnly))
}

func (q *question) learnt(waterBody string, from, to time.Time, post *fit.Posterior) Learnt {
	l := Learnt{Water: waterBody, From: from, To: to, Readings: len(q.Readings), Bases: q.bases, Sure: post.Sure, Other: post.Other}
	n := len(post.Draws)
	draws := make([]float64, n)
	band := func(of func(h *fit.History) float64) quantity.Band[float64] {
		for i := range post.Draws {
			draws[i] = of(&post.Draws[i])
		}
		slices.Sort(draws)
		return bandOf(draws)
	}
	scores := q.scores(post.Draws)
	for u := range dynamics.Unknowns {
		prior := q.Priors[u]
		v := OwnValue{Of: u, Book: quantity.Band[float64]{
			Low: prior.At(-z95), Lo: prior.At(-z90), Median: prior.Median, Hi: prior.At(z90), High: prior.At(z95),
		}}
		v.Own = band(func(h *fit.History) float64 { return h.Params[u] })
		v.Told = q.told(u, post.Draws)
		v.Moved = prior.Z(v.Own.Median)
		l.Values = append(l.Values, v)
	}
	for a := range dynamics.Unknowns {
		for b := range a {
			if r := correlation(scores[a], scores[b]); math.Abs(r) >= tied {
				l.Tied = append(l.Tied, TiedPair{b, a, r})
			}
		}
	}
	slices.SortStableFunc(l.Tied, func(a, b TiedPair) int {
		if math.Abs(a.By) > math.Abs(b.By) {
			return -1
		}
		return 1
	})

	quiet := still(q.Course)
	week := func(h *fit.History) (now, then dynamics.State) {
		return h.End, quiet.Run(&h.Params, &dynamics.Deviations{}, h.End, h.End.Day+7, nil, nil, q.Pace)
	}
	rise := band(func(h *fit.History) float64 {
		now, then := week(h)
		return (then.NO3 - now.NO3) / now.Volume
	})
	fall := band(func(h *fit.History) float64 {
		now, then := week(h)
		return float64(now.KH()) - float64(then.KH())*then.Volume/now.Volume
	})
	l.NO3Rise = quantity.Band[quantity.Nitrate]{Low: quantity.Nitrate(rise.Low), Lo: quantity.Nitrate(rise.Lo), Median: quantity.Nitrate(rise.Median), Hi: quantity.Nitrate(rise.Hi), High: quantity.Nitrate(rise.High)}
	l.KHFall = quantity.Band[quantity.Alkalinity]{Low: quantity.Alkalinity(fall.Low), Lo: quantity.Alkalinity(fall.Lo), Median: quantity.Alkalinity(fall.Median), Hi: quantity.Alkalinity(fall.Hi), High: quantity.Alkalinity(fall.High)}
	return l
}

// scores are the own constants of histories in standard deviations of the book's doubt, by unknown.
func (q *question) scores(draws []fit.History) (out [dynamics.Unknowns][]float64) {
	for u := range out {
		for i := range draws {
			out[u] = append(out[u], q.Priors[u].Z(draws[i].Params[u]))
		}
	}
	return out
}

// told is how much narrower an own constant is than books have it.
func (q *question) told(u dynamics.Unknown, draws []fit.History) float64 {
	scores := make([]float64, len(draws))
	for i := range draws {
		scores[i] = q.Priors[u].Z(draws[i].Params[u])
	}
	return math.Max(1-spread(scores), 0)
}

// still is the course with nothing happening: it goes on as it ends, fed as in the last four weeks.
func still(c *dynamics.Course) *dynamics.Course {
	s := *c
	last := c.Usual(c.Days-4*dynamics.Week, c.Days)
	last.From, last.To = 0, math.Inf(1)
	s.Events = nil
	if last.TopUp > 0 {
		s.Events = []dynamics.Event{c.Events[last.TopUp-1]}
		last.TopUp = 1
	}
	s.Pieces = []dynamics.Piece{last}
	return &s
}
