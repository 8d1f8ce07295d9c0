package plan

import (
	"math"
	"time"

	"halfwater/quantity"
)

// PlateauAhead is where a quantity comes to rest before a change when the routine is kept, and from when on it
// cannot be told from that.
type PlateauAhead struct {
	Of    quantity.Measurand
	Level float64 // canonical, before a change
	// By is the eve from which on the median stands as near to the level as the doubt lets us print; the first
	// eve of the outlook when it does now. Zero when that takes longer than a year.
	By time.Time
}

// gathers are the quantities that come to rest because each change takes its share of what has gathered.
// Total ammonia, nitrite and pH do not: filter and air hold them, not the change.
var gathers = []quantity.Measurand{quantity.OfNO3, quantity.OfKH, quantity.OfGH, quantity.OfEC}

const (
	nearEnough = 1. / 6 // of the band: the last digit that is printed (look.Value)
	leastEves  = 5      // now and four changes
	farthest   = 365 * day
)

// plateaus are read off the medians of the eves: each change leaves 1 - x of the distance to the plateau P,
// m[k+1] = P + (1-x)(m[k] - P) (package change), so that every step tells P = (m[k+1] - (1-x) m[k]) / x. The
// mean of that over the second half of the eves is the level: the sum telescopes, and the scatter of single
// medians hardly counts. So the level carries all that the beliefs know (top-up, growth, what KH does to
// nitrification), where the closed form would carry only a source and a rate; and it is as good as the
// last changes are like those after them. None when nothing is changed or there are too few eves.
func (o *Outlook) plateaus() []PlateauAhead {
	last := len(o.Eves) - 1
	if last+1 < leastEves || !(o.Share > 0 && o.Share < 1) || !o.AsLast {
		return nil
	}
	x := float64(o.Share)
	var out []PlateauAhead
	for _, of := range gathers {
		m := make([]float64, 0, len(o.Eves))
		for _, e := range o.Eves {
			if b, ok := e.Bands[of]; ok {
				m = append(m, b.Median)
			}
		}
		if len(m) != len(o.Eves) {
			continue
		}
		from := 1 + (last-1)/2 // eve 0 is now, not before a change
		n := float64(last - from)
		sum := 0.0
		for _, y := range m[from:last] {
			sum += y
		}
		p := PlateauAhead{Of: of, Level: math.Max(sum/n+(m[last]-m[from])/(n*x), of.Span().Lo)}
		b := o.Eves[last].Bands[of]
		near := nearEnough * (b.Hi - b.Lo)
		p.By = o.restsBy(m, p.Level, near, x)
		out = append(out, p)
	}
	return out
}

// restsBy is the first eve from which on the medians stay near a level; beyond the outlook the distance goes
// on shrinking by the share of each change.
func (o *Outlook) restsBy(m []float64, level, near, x float64) time.Time {
	i := len(m)
	for i > 0 && math.Abs(m[i-1]-level) <= near {
		i--
	}
	if i < len(m) {
		return o.Eves[i].At
	}
	if !(near > 0) {
		return time.Time{}
	}
	last := o.Eves[len(m)-1].At
	more := math.Ceil(math.Log(near/math.Abs(m[len(m)-1]-level)) / math.Log1p(-x))
	if most := farthest - last.Sub(o.From); !(more*o.Every < most.Hours()/24) {
		return time.Time{}
	}
	return last.Add(time.Duration(more * o.Every * float64(day)))
}
