package husbandry

import (
	"fmt"

	"halfwater/quantity"
)

// Grade is which of the lines of a thing is meant.
type Grade string

// The grades.
const (
	WatchLine     Grade = "watch"
	ActLine       Grade = "act"
	EmergencyLine Grade = "emergency"
)

// Override is a line of the keeper's own, in the unit of the line.
type Override struct {
	Of    Watched
	Grade Grade
	Value float64
}

// LooserThanTable refuses an override that would loosen a line of a poison or of oxygen, or a
// step limit.
type LooserThanTable struct {
	Of           string // what the line is of
	Grade        Grade  // empty for a step
	Asked, Table float64
	Unit         string
}

func (e LooserThanTable) Error() string {
	what := "step limit"
	if e.Grade != "" {
		what = string(e.Grade) + " line"
	}
	return fmt.Sprintf("%s of %s: %g %s is looser than %g; these lines may be tightened, never loosened",
		what, e.Of, e.Asked, e.Unit, e.Table)
}

// NoSuchLine refuses an override of a line that does not hold for this stock.
type NoSuchLine struct {
	Of    Watched
	Grade Grade
}

func (e NoSuchLine) Error() string {
	return fmt.Sprintf("%s has no %s line for this stock: leave it out", e.Of, e.Grade)
}

// With gives the lines with the keeper's own on top, or the first refusal: [NoSuchLine],
// [LooserThanTable]. A line of KH or nitrate may be loosened; the line then says so. When a
// tightened line passes a milder one, the milder one moves with it.
func (l Lines) With(own ...Override) (Lines, error) {
	out := Lines{l.Class, l.Why, make([]Line, len(l.All))}
	for i, line := range l.All {
		line.Why = append([]Because(nil), line.Why...)
		out.All[i] = line
	}
	for _, o := range own {
		i := out.index(o.Of)
		if i < 0 {
			return Lines{}, NoSuchLine{o.Of, o.Grade}
		}
		moved, err := out.All[i].with(o)
		if err != nil {
			return Lines{}, err
		}
		out.All[i] = moved
	}
	return out, nil
}

func (l Lines) index(w Watched) int {
	for i, line := range l.All {
		if line.Of == w {
			return i
		}
	}
	return -1
}

// with gives the line moved by one override; it is called on a copy of its reasons.
func (l Line) with(o Override) (Line, error) {
	line := map[Grade]*Maybe[float64]{WatchLine: &l.Watch, ActLine: &l.Act, EmergencyLine: &l.Emergency}[o.Grade]
	if line == nil {
		return l, NoSuchLine{o.Of, o.Grade}
	}
	was, ok := line.Get()
	if !ok || o.Value != o.Value {
		return l, NoSuchLine{o.Of, o.Grade}
	}
	if l.tighter(was, o.Value) {
		if l.Of.Poison() {
			return l, LooserThanTable{string(l.Of), o.Grade, o.Value, was, l.Unit}
		}
		l.Why = append(l.Why, Because{Code: WhyKeeperLooser})
	} else {
		l.Why = append(l.Why, Because{Code: WhyKeeperTighter})
	}
	*line = Known(o.Value)
	l.Act = l.tightest(l.Act, l.Emergency)
	l.Watch = l.tightest(l.Watch, l.Act)
	return l, nil
}

// tighter reports whether a is passed before b.
func (l Line) tighter(a, b float64) bool {
	if l.Below {
		return a > b
	}
	return a < b
}

// tightest is the mild line, or the grave one when that is passed first.
func (l Line) tightest(mild, grave Maybe[float64]) Maybe[float64] {
	a, haveA := mild.Get()
	b, haveB := grave.Get()
	if haveA && haveB && l.tighter(b, a) {
		return grave
	}
	return mild
}

// Tightened gives the limits with the keeper's own where these are given, or [LooserThanTable].
func (s StepLimits) Tightened(own OwnSteps) (StepLimits, error) {
	for _, share := range []struct {
		name string
		own  Maybe[quantity.Share]
		to   *quantity.Share
	}{{"GH", own.GH, &s.GH}, {"EC", own.EC, &s.EC}, {"KH", own.KH, &s.KH}} {
		v, ok := share.own.Get()
		if !ok {
			continue
		}
		if !(v > 0 && v <= *share.to) {
			return StepLimits{}, LooserThanTable{share.name, "", float64(v), float64(*share.to), "of the value a day"}
		}
		*share.to = v
		s.WhyHardness = Because{Code: WhyKeeperTighter}
	}
	if v, ok := own.Temperature.Get(); ok {
		if !(v > 0 && v <= s.Temperature) {
			return StepLimits{}, LooserThanTable{"temperature", "", float64(v), float64(s.Temperature), "K a day"}
		}
		s.Temperature, s.WhyTemp = v, Because{Code: WhyKeeperTighter}
	}
	return s, nil
}

// OwnSteps are step limits of the keeper's own; what is unknown follows the table.
type OwnSteps struct {
	GH, EC, KH  Maybe[quantity.Share]
	Temperature Maybe[quantity.CelsiusDiff]
}
