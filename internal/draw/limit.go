package draw

import (
	"math"
	"sort"
	"strconv"

	"halfwater/internal/look"
)

// Limit is a line before harm: the watch line or the act line, at one side of the keeping range.
type Limit struct {
	At    float64   // in the unit of the drawing
	Mark  look.Mark // Watch or ActNow
	Above bool      // harm lies above it; otherwise below
}

// Name is what stands at the line: "act 1", "watch 25".
func (l Limit) Name() string {
	word := "watch "
	if l.act() {
		word = "act "
	}
	return word + number(l.At)
}

func (l Limit) act() bool { return l.Mark == look.ActNow }

// number prints a mark of a scale with three digits and no noughts behind.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'g', 3, 64)
	if short, err := strconv.ParseFloat(s, 64); err == nil && (v == 0 || math.Abs(v) >= 1e-6 && math.Abs(v) < 1e9) {
		s = strconv.FormatFloat(short, 'f', -1, 64)
	}
	return s
}

// limitsOn keeps the limits that stand on the axis, in order of value.
func limitsOn(ls []Limit, a axis) []Limit {
	var out []Limit
	for _, l := range ls {
		if finite(l.At) && a.has(l.At) && l.Mark != look.CarryOn {
			out = append(out, l)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].At < out[j].At })
	return out
}

// bank is a stretch of the scale past a line.
type bank struct {
	lo, hi float64
	act    bool
}

// banks are the stretches past the watch and the act lines, within the axis.
func banks(ls []Limit, a axis) []bank {
	low, high := edge{a.lo, false, a.lo, false}, edge{a.hi, false, a.hi, false}
	for _, l := range ls {
		if !finite(l.At) || l.Mark == look.CarryOn {
			continue
		}
		at := min(max(l.At, a.lo), a.hi)
		switch {
		case l.Above && l.act():
			high.act, high.hasAct = min(high.act, at), true
		case l.Above:
			high.watch, high.hasWatch = min(high.watch, at), true
		case l.act():
			low.act, low.hasAct = max(low.act, at), true
		default:
			low.watch, low.hasWatch = max(low.watch, at), true
		}
	}
	var out []bank
	add := func(lo, hi float64, act bool) {
		if hi > lo {
			out = append(out, bank{lo, hi, act})
		}
	}
	if low.hasAct {
		add(a.lo, low.act, true)
	}
	if low.hasWatch {
		add(low.act, low.watch, false)
	}
	if high.hasWatch {
		add(high.watch, high.act, false)
	}
	if high.hasAct {
		add(high.act, a.hi, true)
	}
	return out
}

// edge is one side of the channel.
type edge struct {
	watch    float64
	hasWatch bool
	act      float64
	hasAct   bool
}

// hatches defines the two banks: wide for watch, close for act.
func (g *svg) hatches(id string) {
	g.b.WriteString(`<defs><pattern id="` + id + `w" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">` +
		`<line x1="0" y1="0" x2="0" y2="8" class="bank-w" stroke-width="1.4"/></pattern>` +
		`<pattern id="` + id + `a" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">` +
		`<line x1="0" y1="0" x2="0" y2="4" class="bank-a" stroke-width="1.8"/></pattern></defs>`)
}

func hatchOf(id string, act bool) string {
	if act {
		return id + "a"
	}
	return id + "w"
}

// paint of a limit line: act is thick and full, watch thin and broken.
func (l Limit) paint() (width float64, dash string) {
	if l.act() {
		return 3, ""
	}
	return 1.5, "4 3"
}
