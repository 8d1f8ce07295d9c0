package book

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

// Fits says what in a line cannot be beside the facts in force (f): a level above the glass, more
// litres than the box holds, more food than the animals could ever take, an analysis that contradicts
// itself. Nil or [Faults]. What no fact bounds is let pass.
func (l Line) Fits(f enclosure.Facts) error {
	c := &check{kind: l.Body.Kind()}
	b := bounds{check: c, basin: f.Basin}
	switch v := l.Body.(type) {
	case enclosure.SourceWater:
		c.whole(v)
	case Reading:
		if v.Of == quantity.OfLevel && b.basin != nil && quantity.Millimetres(v.Lo) > b.basin.Height {
			b.level("shown", quantity.Millimetres(v.Lo+v.Hi)/2)
		}
	case Change:
		b.level("level before", v.LevelBefore)
		b.level("level after", v.LevelAfter)
		b.litres("out", v.OutLitres)
		b.poured(v)
	case TopUp:
		b.litres("litres", v.Litres)
	case LevelTest:
		b.level("from", v.From)
		b.level("to", v.To)
		b.litres("litres", v.Litres)
	case Feed:
		b.food(v, eaters(f.Stock, l.Batch))
	}
	return c.err()
}

// whole asks an analysis whether its numbers agree. One that leaves something open is no fault: those
// who use it say what is missing.
func (c *check) whole(s enclosure.SourceWater) {
	made, err := s.Analysis.Middle()
	if stated := s.Analysis.EC; err == nil && stated.Is {
		if off := math.Abs(float64(made.EC - stated.Value)); off > ecFar*float64(stated.Value) && off > ecNear {
			err = ECFar{stated.Value, made.EC}
		}
	}
	var open water.CannotKnow
	var span water.OutOfSpan // said by Check
	if err == nil || errors.As(err, &open) || errors.As(err, &span) {
		return
	}
	do := "check each number, unit and basis against the report"
	if s.Analysis.HasIons() {
		do += "; or leave the ions out and give gh_dgh and kh_dkh of your own tests"
	}
	c.faults = append(c.faults, Fault{Kind: c.kind, Field: "analysis of " + s.Name, Code: "book.analysis", Err: err, Do: do})
}

// ecFar is how far the stated EC may lie from that of the ions: a report gives means of many days, and
// some give it at 20 °C. Judgement, no source.
const (
	ecFar  = 0.3
	ecNear = 50 // µS/cm: in the softest waters little is far in share
)

// ECFar is a stated EC that the ions of the same report do not make.
type ECFar struct{ Stated, Made quantity.Conductivity }

func (e ECFar) Error() string {
	return fmt.Sprintf("EC %.0f µS/cm is stated, but these ions make about %.0f", e.Stated, e.Made)
}

// bounds are the amounts that the box can take.
type bounds struct {
	*check
	basin *enclosure.Basin
}

// gross is what box and outside filter hold at the very most, in litres; false when never measured.
func (b bounds) gross() (float64, bool) {
	if b.basin == nil {
		return 0, false
	}
	g := float64(b.basin.Gross(b.basin.Height)) + float64(b.basin.FilterLitres)
	return g, g > 0
}

// level asks for a level within the glass.
func (b bounds) level(field string, x quantity.Millimetres) {
	if b.basin == nil || b.basin.Height <= 0 || x <= b.basin.Height {
		return
	}
	b.tooMuch(field, x.Centimetres(), b.basin.Height.Centimetres(), "cm", fmt.Sprintf("above the glass, which is %s cm high inside", short(b.basin.Height.Centimetres())),
		"write the height of the water over the inside foot of the glass")
}

// litres asks for no more than the box holds.
func (b bounds) litres(field string, l quantity.Litres) {
	if g, ok := b.gross(); ok && float64(l) > g {
		b.tooMuch(field, float64(l), g, "L", fmt.Sprintf("more than the empty box with its filter holds, %s L", whole(g)),
			"write what was really handled, in litres")
	}
}

// poured asks that what was poured in finds room: more than the whole box holds, and more than twice
// what went out, would stand on the floor.
func (b bounds) poured(v Change) {
	g, ok := b.gross()
	if !ok {
		return
	}
	out, in := float64(v.OutLitres), 0.0
	for _, p := range v.In {
		in += float64(p.Litres)
	}
	if fall := v.LevelBefore - v.LevelAfter; out == 0 && v.LevelAfter > 0 && fall > 0 {
		out = float64(b.basin.Gross(fall))
	}
	if in > g && in > 2*out {
		b.bad("in", "book.too-much", fmt.Sprintf("is %s L altogether, more than the empty box with its filter holds, %s L", short(in), whole(g)),
			"write the litres of each water that were poured, like RO 9; tap 6")
	}
}

// Food that no animal could take, judgement: twenty grams to each litre of the empty box, or twenty
// times what all who eat it weigh.
const (
	foodPerLitre = 20
	foodPerGram  = 20
)

func (b bounds) food(v Feed, weigh float64) {
	const do = "write the grams as they were weighed"
	if weigh > 0 && float64(v.Grams) > foodPerGram*weigh {
		b.tooMuch("grams", float64(v.Grams), weigh, "g", fmt.Sprintf("more than %d times what the animals weigh, %s g", foodPerGram, short(weigh)), do)
		return
	}
	if g, ok := b.gross(); ok && float64(v.Grams) > foodPerLitre*g {
		b.tooMuch("grams", float64(v.Grams), g, "g", fmt.Sprintf("more than %d g to each litre of the box", foodPerLitre), do)
	}
}

// eaters is what the animals weigh together, or those of one batch; 0 when it is not known of all.
func eaters(stock []enclosure.Batch, batch string) float64 {
	sum := 0.0
	for _, s := range stock {
		if s.Count <= 0 || batch != "" && s.Name != batch {
			continue
		}
		if kind, err := husbandry.Lookup(s.Species); err == nil && !kind.Group.Animal() {
			continue
		}
		if !(s.Mass > 0) {
			return 0
		}
		sum += float64(s.Count) * float64(s.Mass)
	}
	return sum
}

// tooMuch refuses a number, with what was probably meant: the point one place, or two, further left.
func (b bounds) tooMuch(field string, x, most float64, unit, why, do string) {
	f := Fault{Kind: b.kind, Field: field, Code: "book.too-much", Is: fmt.Sprintf("is %s %s, %s", short(x), unit, why), Do: do}
	for _, by := range []float64{10, 100} {
		if x/by <= most {
			f.Likely = short(x / by)
			f.Do += fmt.Sprintf("; was it %s %s?", f.Likely, unit)
			break
		}
	}
	b.faults = append(b.faults, f)
}

// short is a number as it would be typed.
func short(x float64) string {
	return strconv.FormatFloat(math.Round(x*1000)/1000, 'f', -1, 64)
}

func whole(x float64) string { return strconv.FormatFloat(math.Round(x), 'f', 0, 64) }
