package plan

import (
	"time"

	"halfwater/book"
	"halfwater/husbandry"
	"halfwater/quantity"
)

// Done is the change that makes this visit's needless: it was made today, within the last 24 h, or
// so lately that the routine does not ask for another yet.
type Done struct {
	Code   string // "plan.done-today", "plan.done-lately"
	At     time.Time
	Litres quantity.Litres // poured; 0 when they were not written down
	Next   time.Time
}

// lastChange is the latest line of a change that moved water: its moment and what it poured.
func (v *visit) lastChange() (at time.Time, litres quantity.Litres, ok bool) {
	for i := len(v.Lines) - 1; i >= 0; i-- {
		c, is := v.Lines[i].Body.(book.Change)
		if is && v.mine(v.Lines[i]) && moved(c) {
			return v.Lines[i].At, pouredIn(c), true
		}
	}
	return time.Time{}, 0, false
}

// moved reports whether a change took water out or poured any: one that only notes the bed did not.
func moved(c book.Change) bool {
	return c.OutLitres > 0 || pouredIn(c) > 0 || c.LevelBefore > 0 && c.LevelAfter > 0
}

func pouredIn(c book.Change) quantity.Litres {
	var l quantity.Litres
	for _, in := range c.In {
		l += in.Litres
	}
	return l
}

// doneAlready says that the change is done. A share that the keeper asks for is another matter: the
// day's step then counts what was poured. So is a danger, once a day has passed.
func (v *visit) doneAlready() *Done {
	at, litres, ok := v.lastChange()
	if !ok || v.Share > 0 {
		return nil
	}
	ago := v.on.Sub(at)
	d := Done{Code: "plan.done-today", At: at, Litres: litres, Next: at.Add(time.Duration(v.interval * float64(day)))}
	if d.Next.Before(v.on) || v.sameDay(d.Next) { // a routine of less than a day
		d.Next = v.on.AddDate(0, 0, 1)
	}
	switch {
	case v.sameDay(at):
		return &d
	case ago < day:
		d.Code = "plan.done-lately"
		return &d
	case ago < time.Duration(v.interval*float64(day)/2) && !v.pressing():
		d.Code = "plan.done-lately"
		return &d
	}
	return nil
}

// pressing reports whether something cannot wait for the routine: a line to act on now is passed, or
// a range that the keeper set is left, which is brought back day by day.
func (v *visit) pressing() bool {
	for _, c := range append(v.ammoniaNow(), v.pastLines()...) {
		if c.Tier == husbandry.ActNow {
			return true
		}
	}
	for _, of := range []quantity.Measurand{quantity.OfGH, quantity.OfKH, quantity.OfEC} {
		x := levelOf(v.now.Levels, of)
		if k, ok := v.ranges.Of(of); ok && (k.LoBy.Keeper || k.HiBy.Keeper) && known(x) && beyond(of, x, k.Range) {
			return true
		}
	}
	return false
}

// pouredToday is the share of the held water that was poured within the last 24 h: a day's step
// counts it too.
func (v *visit) pouredToday() quantity.Share {
	var l quantity.Litres
	for _, line := range v.Lines {
		if c, ok := line.Body.(book.Change); ok && v.mine(line) && v.on.Sub(line.At) < day {
			in := pouredIn(c)
			if in == 0 {
				in = c.OutLitres
			}
			l += in
		}
	}
	if !(v.held.Median > 0) {
		return 0
	}
	return quantity.Share(float64(l) / float64(v.held.Median))
}
