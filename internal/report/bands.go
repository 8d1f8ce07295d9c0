package report

import (
	"math"
	"slices"
	"strings"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/internal/draw"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// WaterRow is one quantity of the water now as the page shows it: the words, the drawing, the
// reason.
type WaterRow struct {
	Key                string // short, for an id
	Name               string
	Word, Number, Unit string // "about", "2.1", "°dKH"
	Could              string
	Why                string
	Mark               look.Mark
	Instead            string // what stands in place of a tier: "not read", "worked out"; "" when the tier is said
	Band               draw.Band
}

// WaterRows are the quantities of the water now between their banks. Where nothing is believed of
// a quantity it has no row: its absence is said under [plan.Missing].
func WaterRows(b infer.Belief, f enclosure.Facts, lines []book.Line, s plan.Sheet) []WaterRow {
	marks := Marks(s)
	limits := limitsOf(b, f)
	byID := map[book.ID]book.Line{}
	for _, l := range lines {
		byID[l.ID] = l
	}
	var out []WaterRow
	for _, m := range ofWater {
		band, ok := b.Band(m)
		if !ok {
			continue
		}
		p, _ := look.PrintOf(m)
		e := b.Evidence[m]
		r := WaterRow{Key: string(m), Name: p.Name, Unit: p.Words(), Mark: marks[m], Why: whyOf(m, e, b)}
		if e.Last.IsZero() && marks[m] == look.CarryOn { // no reading behind it: nothing is said of its tier
			r.Instead = say.Sentence("now.unread", nil)
		}
		about, could := say.Bare(m, band, e.Floor)
		r.Word, r.Number = inWords(about)
		r.Could = could
		scale := func(x float64) float64 { return look.Shown(m, x) }
		r.Band = draw.Band{
			Title: title(r), Lo: p.Lo, Hi: p.Hi, Limits: limits[m],
			Belief: believed(b, func(d infer.Draw) float64 { x, _ := d.Of(m); return scale(x) }),
		}
		if len(e.Readings) > 0 {
			if l, ok := byID[e.Readings[0]]; ok {
				r.Band.Shown, r.Band.Say = kitShowed(m, l, b)
			}
		}
		out = append(out, r)
		if m == quantity.OfTAN {
			if free, ok := freeRow(b, limits); ok {
				free.judge(s, marks[m])
				out = append(out, free)
			}
		}
	}
	return out
}

// freeRow is free ammonia, which nothing measures: it is worked out from total ammonia, pH and
// temperature.
func freeRow(b infer.Belief, limits map[quantity.Measurand][]draw.Limit) (WaterRow, bool) {
	of := func(d infer.Draw) float64 { return float64(d.FreeAmmonia()) }
	band, ok := b.BandOf(of)
	if !ok {
		return WaterRow{}, false
	}
	v := look.Value{Middle: band.Median, Lo: band.Lo, Hi: band.Hi, Finest: .001}
	r := WaterRow{Key: freeKey, Name: "Free ammonia", Unit: "mg/L as N", Could: v.Could(), Why: say.Sentence("now.free", nil)}
	r.Word, r.Number = inWords(v.About())
	r.Band = draw.Band{Lo: 0, Hi: .06, Limits: limits[ofFree], Belief: believed(b, of)}
	return r, true
}

// judge gives free ammonia the tier of total ammonia where its own line is passed; where total ammonia alone is too much for a month
// (the criterion) the tier is not that of the free part, and none is said.
func (r *WaterRow) judge(s plan.Sheet, ammonia look.Mark) {
	r.Mark = ammonia
	if slices.ContainsFunc(s.Concerns, func(c plan.Concern) bool { return strings.HasPrefix(c.Code, "plan.ammonia-criterion") }) {
		r.Mark, r.Instead = look.CarryOn, say.Sentence("now.worked-out", nil)
	}
	r.Band.Title = title(*r)
}

const freeKey = "free"

// about is the value in one line.
func (r WaterRow) about() string {
	return strings.TrimSpace(strings.Join([]string{r.Word, r.Number, r.Unit}, " "))
}

// ofFree is the key of free ammonia among the limits; it is no measurand, because no kit shows it.
const ofFree quantity.Measurand = "free ammonia"

func inWords(about string) (word, number string) {
	for _, w := range []string{"about", "under", "likely under"} {
		if n, ok := strings.CutPrefix(about, w+" "); ok {
			return w, n
		}
	}
	return "", about
}

func title(r WaterRow) string {
	s := r.Name + ": " + r.about()
	if r.Could != "" {
		s += ", " + r.Could
	}
	if r.Instead != "" {
		return s + ". " + r.Instead + "."
	}
	return s + ". " + r.Mark.Word() + "."
}

// believed is the spread of a thing over the draws.
func believed(b infer.Belief, of func(infer.Draw) float64) *draw.Belief {
	xs := make([]float64, 0, len(b.Draws))
	for _, d := range b.Draws {
		if x := of(d); !math.IsNaN(x) {
			xs = append(xs, x)
		}
	}
	if len(xs) == 0 {
		return nil
	}
	slices.Sort(xs)
	q := func(p float64) float64 { return xs[int(math.Round(p*float64(len(xs)-1)))] }
	return &draw.Belief{P10: q(.1), P25: q(.25), P75: q(.75), P90: q(.9)}
}

// kitShowed is the interval of the latest reading, with its words.
func kitShowed(m quantity.Measurand, l book.Line, b infer.Belief) (*draw.Span, string) {
	r, ok := l.Body.(book.Reading)
	if !ok || r.Of != m {
		return nil, ""
	}
	span := m.Span()
	lo, hi := look.Shown(m, max(r.Lo, span.Lo)), look.Shown(m, min(r.Hi, span.Hi))
	return &draw.Span{Lo: lo, Hi: hi}, kitAndDay(r.Kit, l, b) + ": " + r.Shown
}

// limitsOf are the lines and the ends of the keeping ranges, in the unit in which each is shown.
func limitsOf(b infer.Belief, f enclosure.Facts) map[quantity.Measurand][]draw.Limit {
	out := map[quantity.Measurand][]draw.Limit{}
	ranges, _ := enclosure.KeepingRanges(f.Stock, f.Wanted) // what conflicts is refused by the sheet
	var chloride husbandry.Maybe[quantity.MgPerL]
	if cl, ok := b.Band(quantity.OfChloride); ok {
		chloride = husbandry.Known(quantity.MgPerL(cl.Median))
	}
	lines := ranges.Lines(chloride)
	for _, w := range []struct {
		of      quantity.Measurand
		watched husbandry.Watched
	}{
		{ofFree, husbandry.FreeAmmonia},
		{quantity.OfNO2, husbandry.NitriteLine},
		{quantity.OfKH, husbandry.KHLine},
		{quantity.OfNO3, husbandry.NitrateLine},
	} {
		line, ok := lines.Of(w.watched)
		if !ok {
			continue
		}
		for _, at := range []struct {
			x    husbandry.Maybe[float64]
			mark look.Mark
		}{{line.Watch, look.Watch}, {line.Act, look.ActNow}} {
			if x, ok := at.x.Get(); ok {
				if w.of != ofFree {
					x = look.Shown(w.of, x)
				}
				out[w.of] = append(out[w.of], draw.Limit{At: tidied(x), Mark: at.mark, Above: !line.Below})
			}
		}
	}
	for _, k := range ranges.All {
		if k.When != husbandry.Always || k.Range.Empty() {
			continue
		}
		for _, end := range []struct {
			x     float64
			above bool
		}{{k.Range.Lo, false}, {k.Range.Hi, true}} {
			if !math.IsInf(end.x, 0) && !has(out[k.Of], end.above) && (end.above || end.x > 0) {
				out[k.Of] = append(out[k.Of], draw.Limit{At: tidied(look.Shown(k.Of, end.x)), Mark: look.Watch, Above: end.above})
			}
		}
	}
	return out
}

// tidied takes off what turning a unit there and back leaves behind.
func tidied(x float64) float64 { return math.Round(x*1e6) / 1e6 }

func has(ls []draw.Limit, above bool) bool {
	return slices.ContainsFunc(ls, func(l draw.Limit) bool { return l.Above == above })
}

// HeldWords says how much water there is; "" when the box has no measures.
func HeldWords(n WaterNow) string {
	if n.HeldL == nil {
		return ""
	}
	return say.Sentence("now.held", *n.HeldL)
}
