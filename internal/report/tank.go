package report

import (
	"cmp"
	"math"
	"slices"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer"
	"halfwater/internal/draw"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/plan"
)

// Staff is the scale at the glass for the siphon.
func Staff(m plan.Siphon) draw.Staff {
	return draw.Staff{Now: m.Now.Centimetres(), To: m.Mark.Centimetres(), Intake: m.Intake.Centimetres()}
}

// Vessels are the fillings of a pour as they are drawn. A water that carries hardness is darker.
func Vessels(p plan.Pour, f enclosure.Facts) draw.Vessels {
	var out draw.Vessels
	for i, v := range p.Vessels {
		d := draw.Vessel{Name: v.Vessel + " " + say.Number(float64(i+1), 0), Brim: float64(v.Brim)}
		for _, part := range v.Parts {
			src, _ := f.Source(part.Source)
			d.Parts = append(d.Parts, draw.Part{Water: part.Source, Litres: float64(part.Litres), Hard: src.MadeBy == ""})
		}
		out = append(out, d)
	}
	return out
}

// Mini is a row of before and after with its small scale. The rows are those that bite or move
// most, three at most.
type Mini struct {
	EffectRow
	Scale draw.BeforeAfter
}

// Minis are the rows of before and after for the tank.
func Minis(s plan.Sheet, b infer.Belief, f enclosure.Facts) []Mini {
	limits := limitsOf(b, f)
	marks := Marks(s)
	type ranked struct {
		Mini
		mark look.Mark
		move float64 // over the doubt
	}
	var out []ranked
	for _, e := range s.Effects {
		p, ok := look.PrintOf(e.Of)
		if e.Free || !ok {
			continue
		}
		shown := func(x float64) float64 { return look.Shown(e.Of, x) }
		m := Mini{EffectRow: effectRow(e), Scale: draw.BeforeAfter{
			Before: draw.Span{Lo: shown(e.Before.Lo), Hi: shown(e.Before.Hi)}, After: draw.Span{Lo: shown(e.After.Lo), Hi: shown(e.After.Hi)},
			Lo: p.Lo, Hi: p.Hi, Limits: limits[e.Of],
		}}
		m.What = p.Name
		m.Scale.Lo, m.Scale.Hi = about(m.Scale)
		if m.Before != m.After {
			out = append(out, ranked{m, marks[e.Of], math.Abs(e.After.Median-e.Before.Median) / (e.Before.Hi - e.Before.Lo)})
		}
	}
	slices.SortStableFunc(out, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(b.mark, a.mark), cmp.Compare(b.move, a.move))
	})
	var minis []Mini
	for _, r := range out[:min(3, len(out))] {
		minis = append(minis, r.Mini)
	}
	return minis
}

// about is a scale of two and a half times what is drawn, so that a small move is seen.
func about(d draw.BeforeAfter) (lo, hi float64) {
	from, to := math.Min(d.Before.Lo, d.After.Lo), math.Max(d.Before.Hi, d.After.Hi)
	if !(to > from) {
		return d.Lo, d.Hi
	}
	room := (to - from) * .75
	return math.Max(from-room, math.Min(d.Lo, from)), to + room
}

// Poured is the change that a sheet asks for, as the columns of a book file: what is offered to the
// keeper to be written down when the visit is done.
func Poured(s plan.Sheet) [][2]string {
	var out [][2]string
	if m := s.Siphon; m != nil {
		out = append(out,
			[2]string{"out_litres", say.Number(float64(m.Out.Median), 1)},
			[2]string{"level_before_cm", say.Number(m.Now.Centimetres(), 1)},
			[2]string{"level_after_cm", say.Number(m.Mark.Centimetres(), 1)})
	}
	if p := s.Pour; p != nil {
		in := ""
		for _, part := range p.Parts {
			if part.Litres <= 0 {
				continue
			}
			if in != "" {
				in += "; "
			}
			in += part.Source + " " + say.Number(math.Round(float64(part.Litres)*2)/2, 1)
		}
		out = append(out, [2]string{"in", in})
	}
	return out
}

// Fit compares a kept reading with what was expected before it, in one drawing.
func Fit(r book.Reading, b infer.Belief, f enclosure.Facts, s plan.Sheet) (row WaterRow, ok bool) {
	for _, w := range WaterRows(b, f, nil, s) {
		if w.Name == name(r.Of) {
			span := r.Of.Span()
			w.Band.Shown = &draw.Span{Lo: look.Shown(r.Of, max(r.Lo, span.Lo)), Hi: look.Shown(r.Of, min(r.Hi, span.Hi))}
			w.Band.Say = say.Sentence("door.band-now", r)
			return w, true
		}
	}
	return WaterRow{}, false
}
