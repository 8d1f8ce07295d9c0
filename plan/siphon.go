package plan

import (
	"math"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/quantity"
)

// level is where the water stands and what a millimetre holds.
type level struct {
	ok    bool // the basin and its full mark are known
	table enclosure.LevelTable
	basin enclosure.Basin
	now   quantity.Millimetres
	read  bool // now was read; else the full mark is assumed
	tests int
}

// readLevel makes the level table from the basin and the level tests, and looks for a reading of
// the level that no pouring has overtaken.
func (v *visit) readLevel() {
	b := v.Facts.Basin
	if b == nil || !(b.FullMark > 0) {
		return
	}
	var tests []enclosure.LevelTest
	v.level.now = b.FullMark
	for _, l := range v.Lines {
		if !v.mine(l) {
			continue
		}
		switch body := l.Body.(type) {
		case book.LevelTest:
			tests = append(tests, enclosure.LevelTest{Litres: body.Litres, From: body.From, To: body.To})
		case book.Reading:
			if body.Of == quantity.OfLevel && v.on.Sub(l.At) <= readFor {
				v.level.now, v.level.read = quantity.Millimetres(body.Lo+body.Hi)/2, true
			}
		case book.Change, book.TopUp:
			v.level.now, v.level.read = b.FullMark, false
		}
	}
	t, err := enclosure.NewLevelTable(*b, tests)
	if err != nil {
		if t, err = enclosure.NewLevelTable(*b, nil); err != nil {
			return
		}
	}
	v.level.ok, v.level.table, v.level.basin, v.level.tests = true, t, *b, t.Tests
}

// mark is how deep a siphoning of so many litres goes; litres are cut where it would pass the stop
// line, and the water that goes back in fills to the full mark.
func (v *visit) mark(out quantity.Litres) (s Siphon, poured quantity.Litres) {
	l := v.level
	stop, _ := l.basin.Stop()
	s = Siphon{
		Now: l.now, FullMark: l.basin.FullMark, Stop: stop, Intake: l.basin.PumpIntake, HeaterLine: l.basin.HeaterLine,
		NowRead: l.read, Held: v.held,
	}
	down := l.table.MarkAfter(l.now, out).Median
	s.Mark = quantity.Millimetres(math.Round(float64(down)))
	if s.Mark < stop {
		s.Mark = min(quantity.Millimetres(math.Ceil(float64(stop))), l.now)
	}
	s.Out = l.table.Fell(l.now, s.Mark)
	s.Share = quantity.Share(float64(s.Out.Median) / float64(v.held.Median))
	back := l.table.Litres(max(l.basin.FullMark, l.now)) - l.table.Litres(s.Mark)
	return s, quantity.Litres(math.Round(float64(back)*2) / 2)
}
