package enclosure

import (
	_ "embed"
	"fmt"

	"halfwater/cite"
	"halfwater/quantity"
)

//go:embed constants.txt
var constantsText string

var table = cite.MustParse(constantsText)

// Constants are the numbers of this package with their works.
func Constants() []cite.Constant { return table.List }

// Footprint is the inner area of the box.
func (b Basin) Footprint() quantity.SquareMetres {
	return quantity.SquareMetres(b.Length * b.Width / 1e6)
}

// Gross is what the empty box would hold up to a level: footprint times height. It is never what a
// dose or a share is counted from.
func (b Basin) Gross(level quantity.Millimetres) quantity.GrossLitres {
	return quantity.GrossLitres(float64(b.Footprint()) * float64(level))
}

// land reports whether some of the box is land.
func (b Basin) land() bool {
	if b.LandShare > 0 {
		return true
	}
	for _, p := range b.Profile {
		if p.Z > b.FullMark {
			return true
		}
	}
	return false
}

// openBox is the open water in litres up to a level in mm, as drawn: over bed and land, with no
// stone or wood in it.
func (b Basin) openBox(level float64) float64 {
	area := float64(b.Footprint())
	if len(b.Profile) == 0 {
		return area * (1 - float64(b.LandShare)) * depthOver(level, float64(b.BedFront), float64(b.BedBack))
	}
	sum := 0.0
	b.slopes(func(share, left, right float64) { sum += share * depthOver(level, left, right) })
	return area * sum
}

// pores is the water in the pores of bed and land in litres up to a level in mm. The bed counts up
// to its heights in front and at the back; under the land only what a false bottom holds.
func (b Basin) pores(level float64) float64 {
	area := float64(b.Footprint()) * table.Value("pore share")
	front, back := float64(b.BedFront), float64(b.BedBack)
	if len(b.Profile) == 0 {
		bed := area * (1 - float64(b.LandShare)) * (level - depthOver(level, front, back))
		if b.FalseBottom {
			bed += area * float64(b.LandShare) * level
		}
		return bed
	}
	top := level
	if !b.FalseBottom {
		top = min(level, (front+back)/2)
	}
	sum := 0.0
	b.slopes(func(share, left, right float64) { sum += share * (top - depthOver(top, left, right)) })
	return area * sum
}

// slopes gives each straight part of the profile: its share of the length and its two heights. The
// profile goes on level to both ends of the box.
func (b Basin) slopes(part func(share, left, right float64)) {
	p, length := b.Profile, float64(b.Length)
	first, last := p[0], p[len(p)-1]
	part(float64(first.X)/length, float64(first.Z), float64(first.Z))
	for i := 1; i < len(p); i++ {
		part(float64(p[i].X-p[i-1].X)/length, float64(p[i-1].Z), float64(p[i].Z))
	}
	part(1-float64(last.X)/length, float64(last.Z), float64(last.Z))
}

// depthOver is the mean depth of water at a level over ground that rises evenly between two heights.
func depthOver(level, left, right float64) float64 {
	lo, hi := min(left, right), max(left, right)
	switch {
	case level <= lo:
		return 0
	case level >= hi:
		return level - (lo+hi)/2
	}
	return (level - lo) * (level - lo) / (2 * (hi - lo))
}

// displaced is the volume of stone and wood under water, in litres.
func (b Basin) displaced() float64 {
	return b.StoneKg/table.Value("stone") + b.WoodKg/table.Value("wood")
}

// drawn is the water in the box up to a level in mm, in litres, by its measures alone: open water
// less stone and wood, spread evenly over the height, and the pores.
func (b Basin) drawn(level float64) float64 { return b.openLeft()*b.openBox(level) + b.pores(level) }

// openLeft is the share of the open water that stone and wood leave.
func (b Basin) openLeft() float64 {
	if open := b.openBox(float64(b.FullMark)); open > 0 {
		return max(1-b.displaced()/open, 0)
	}
	return 1
}

// Mark is a height that must stay under water.
type Mark string

// The marks, also the codes of their warnings.
const (
	FullMark   Mark = "enclosure.full-mark"
	PumpIntake Mark = "enclosure.pump-intake"
	HeaterLine Mark = "enclosure.heater-line"
)

// Stop is the level under which the water must not be taken while pump and heater run, and the mark
// that sets it: the higher of pump intake and heater line plus 20 mm, because a pump draws air before
// its intake is bare. It is 0 with no mark. (Unplug both before the level falls, all the same.)
func (b Basin) Stop() (quantity.Millimetres, Mark) {
	at, by := b.PumpIntake, PumpIntake
	if b.HeaterLine > at {
		at, by = b.HeaterLine, HeaterLine
	}
	if at <= 0 {
		return 0, ""
	}
	return min(at+quantity.Millimetres(table.Value("stop margin")), b.FullMark), by
}

// Warning is a mark that a level would come near or pass.
type Warning struct {
	By     Mark
	At     quantity.Millimetres // the mark
	Level  quantity.Millimetres
	Passed bool // the level is under the mark itself, not only within the margin above it
}

func (w Warning) Error() string {
	what := map[Mark]string{PumpIntake: "the pump would draw air", HeaterLine: "the heater would stand in air and crack"}[w.By]
	return fmt.Sprintf("level %.1f cm comes to the mark at %.1f cm: %s; unplug it first, or stop higher", w.Level.Centimetres(), w.At.Centimetres(), what)
}

// Warnings are the marks that a level comes within 20 mm of or passes, the pump's first.
func (b Basin) Warnings(level quantity.Millimetres) []Warning {
	var out []Warning
	margin := quantity.Millimetres(table.Value("stop margin"))
	for _, m := range []struct {
		by Mark
		at quantity.Millimetres
	}{{PumpIntake, b.PumpIntake}, {HeaterLine, b.HeaterLine}} {
		if m.at > 0 && level < m.at+margin {
			out = append(out, Warning{m.by, m.at, level, level < m.at})
		}
	}
	return out
}
