package plan

import (
	"math"

	"halfwater/change"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
	"halfwater/water"
)

// pour plans what goes out and what goes back in, and what that does.
func (v *visit) pour(s *Sheet) {
	v.refuseTableSalt()
	if !known(v.held.Median) || v.held.Median <= 0 {
		v.refuse(Refused{Code: "plan.no-held-water"})
		return
	}
	if f, ok := v.missed(); ok {
		v.refuse(Refused{Code: "plan.source-unusable", Source: f.fact.Name, Fault: &f.fault})
		return
	}
	if len(v.sources) == 0 {
		v.refuse(Refused{Code: "plan.no-source"})
		return
	}
	missing := v.startMissing()
	if len(missing) > 0 && !v.pressing() {
		s.RO = missing
		ro := missing[0]
		v.refuse(Refused{Code: "plan.wait-for-ro", Source: ro.Source, Value: float64(v.storeOf(ro.Source)), Limit: float64(ro.Litres), Unit: "L", Until: ro.For})
		return
	}
	c, ok := v.choose()
	if !ok {
		s.RO = missing
		v.refuse(Refused{Code: "plan.store-too-small"})
		return
	}
	if d, ok := v.draft(c); ok {
		s.Siphon = d.siphon
		v.fill(s, c, d)
	}
}

// draft is a choice in litres that can be measured: out by the mark, in by half litres.
type draft struct {
	siphon      *Siphon
	out, litres quantity.Litres
	cut         []int // half litres of each source
	blend       blend // as cut
	share       quantity.Share
}

// draft turns shares into litres. Rounding to the millimetre and the half litre may pass a limit
// that the choice kept: then a little less is taken.
func (v *visit) draft(c choice) (draft, bool) {
	out := v.litres(c.share)
	for out > 0 {
		d := draft{out: out, litres: out}
		if v.level.ok {
			siphon, poured := v.mark(out)
			if siphon.Mark >= siphon.Now || poured <= 0 {
				v.refuse(Refused{Code: "plan.level-too-low", Of: quantity.OfLevel, Value: float64(siphon.Now), Limit: float64(siphon.Stop), Unit: "mm"})
				return d, false
			}
			d.siphon, d.out, d.litres = &siphon, siphon.Out.Median, poured
		}
		d.share = quantity.Share(float64(d.litres) / (float64(v.held.Median) - float64(d.out) + float64(d.litres)))
		d.cut, d.blend = v.cut(c, d.litres)
		if v.borne(c, d) {
			if d.out < out*0.9 {
				v.refuse(Refused{Code: "plan.stop-line", Of: quantity.OfLevel, Value: float64(out), Limit: float64(d.out), Unit: "L"})
			}
			return d, true
		}
		out -= max(halfLitre, quantity.Litres(math.Round(float64(out)/20*2)/2))
	}
	if c.share > 0 {
		_, of := v.mostInADay(c.blend)
		v.refuse(Refused{Code: "plan.no-borne-step", Of: of, Value: float64(halfLitre), Unit: "L"})
	}
	return draft{}, false
}

const halfLitre quantity.Litres = 0.5

// borne reports whether a draft, as it is cut, keeps the limits of a day's step and of ammonia.
func (v *visit) borne(c choice, d draft) bool {
	most, _ := v.mostInADay(d.blend)
	if d.share > most*1.0001 {
		return false
	}
	bad := change.Mixture.Passes
	if c.soft {
		bad = change.Mixture.Harms
	}
	return !(v.harm(d.blend, c.salts, d.share, bad) > hardLimit)
}

// cut is the litres of each source in half litres, and the blend that they make with the salts that
// can be weighed. In the small steps
// out of bad water whatever does not come out even is the softest.
func (v *visit) cut(c choice, litres quantity.Litres) ([]int, blend) {
	total := halves(litres)
	most := make([]quantity.Litres, len(v.sources))
	for i := range v.sources {
		most[i] = v.sources[i].store
	}
	cut := toHalves(total, c.blend.shares, most)
	if soft := v.softest(); c.soft {
		left := total
		for i, share := range c.blend.shares {
			if i != soft {
				cut[i] = int(share * float64(total))
				left -= cut[i]
			}
		}
		if quantity.Litres(left)/2 <= most[soft] {
			cut[soft] = left
		} else {
			cut = toHalves(total, c.blend.shares, most)
		}
	}
	shares := make([]float64, len(cut))
	for i, n := range cut {
		shares[i] = float64(n) / float64(total)
	}
	_, doses := weighed(c.salts, c.blend.doses, litres)
	return cut, v.blendOf(shares, doses, c.salts)
}

// fill makes the pour of a draft: parts, vessels, salts, neutraliser, and what it does.
func (v *visit) fill(s *Sheet, c choice, d draft) {
	b := d.blend
	p := Pour{Litres: d.litres, Share: d.share, Plateau: c.plateaus, Larger: c.larger, Weights: map[quantity.Measurand]float64{}}
	for i, n := range d.cut {
		if n > 0 {
			p.Parts = append(p.Parts, Part{v.sources[i].name, quantity.Litres(n) / 2, quantity.Share(b.shares[i])})
		}
	}
	p.Salts, _ = weighed(c.salts, c.blend.doses, d.litres)
	wishes := v.wishes(c.share)
	for _, w := range wishes {
		p.Weights[w.of] = w.weight
	}
	if !c.soft && !c.near {
		p.Gaps = v.gaps(wishes, b)
	}
	p.Vessels = fills(p.Parts, v.Facts.Vessels)
	p.Neutraliser = v.neutralise(d.cut)
	p.Temp = v.temperature(b, d.share)
	p.RO = v.startRO(d.cut, wishes, d.litres)
	if c.days > 1 {
		p.Path, p.PathDays = v.path(c, b, d.litres), c.days
	}
	mixes := v.mixes(b, c.salts)
	p.Mix = v.mix(b, mixes)
	p.VesselMix = v.vesselMix(p)
	s.Pour = &p
	s.Effects = v.effects(b, c, mixes, func(e *infer.Draw) quantity.Share {
		return quantity.Share(float64(d.litres) / (float64(e.Held) - float64(d.out) + float64(d.litres)))
	})
}

// temperature says how warm the new water has to be.
func (v *visit) temperature(b blend, x quantity.Share) Temperature {
	t := Temperature{Enclosure: v.now.Temp, Known: known(v.now.Temp), StepLimit: v.limits.Temperature}
	if !t.Known {
		t.Enclosure = 0
		return t
	}
	t.Wanted = change.NewWaterRange(v.now.Temp, v.limits.Temperature, x)
	// Warmer than the animals bear is never wanted, whatever the step allows.
	if k, ok := v.ranges.Of(quantity.OfWaterTemp); ok {
		within := quantity.Range[quantity.Celsius]{Lo: quantity.Celsius(k.Range.Lo), Hi: quantity.Celsius(k.Range.Hi)}
		if both := t.Wanted.Meet(within); !both.Empty() {
			t.Wanted = both
		}
	}
	t.SourcesSet = known(b.mid.Temp)
	if t.SourcesSet {
		t.StepOfMix = change.After(v.now.Temp, b.mid.Temp, x, 1).Sub(v.now.Temp)
		t.OfMix = b.mid.Temp
		if t.OfMix < t.Wanted.Lo || t.OfMix > t.Wanted.Hi {
			t.BringTo = bringTo(t)
			t.Softest = v.softestOf(b)
		}
	}
	return t
}

// bringTo is a whole degree half way between the edge that the mix lies past and the enclosure's own
// temperature: no warmer than need be, and not at the edge either.
func bringTo(t Temperature) quantity.Celsius {
	edge := min(max(t.OfMix, t.Wanted.Lo), t.Wanted.Hi)
	own := min(max(t.Enclosure, t.Wanted.Lo), t.Wanted.Hi)
	to := quantity.Celsius(math.Round(float64(edge+own) / 2))
	return min(max(to, t.Wanted.Lo), t.Wanted.Hi)
}

// softestOf is the source of a blend with the least KH.
func (v *visit) softestOf(b blend) string {
	best := -1
	for i, s := range v.sources {
		if b.shares[i] > 0 && (best < 0 || s.mid.KH < v.sources[best].mid.KH) {
			best = i
		}
	}
	if best < 0 {
		return ""
	}
	return v.sources[best].name
}

// neutraliser is the keeper's, the first of them.
func (v *visit) neutraliser() (enclosure.Neutraliser, bool) {
	for _, n := range v.Facts.Neutralisers {
		if n.MlPer > 0 && n.ForLitres > 0 {
			return n, true
		}
	}
	return enclosure.Neutraliser{}, false
}

// neutralise doses the neutraliser for the water that holds chlorine, when it is mixed in a vessel;
// for the whole held water when it is run in by hose, as labels ask. Nil when no chlorine is in it
// or there is no neutraliser; the sheet then says which.
func (v *visit) neutralise(cut []int) *NeutraliserDose {
	var hard, chlorine quantity.Litres // chlorine in L x mg/L
	var bound float64
	for i, n := range cut {
		s := v.sources[i]
		l := quantity.Litres(n) / 2
		if s.chlorine > 0 || !s.stated {
			hard += l
		}
		chlorine += l * quantity.Litres(s.chlorine)
		bound += float64(l) * float64(s.bound)
	}
	n, ok := v.neutraliser()
	if !ok || hard == 0 {
		return nil
	}
	d := NeutraliserDose{Name: n.Name, ForLitres: hard, Chloramine: bound > 0}
	if n.ByHose {
		d.Whole, d.ForLitres = true, quantity.Litres(v.held.Median)
	}
	d.Millilitres = roundUp(float64(d.ForLitres) / float64(n.ForLitres) * n.MlPer)
	if bound > 0 && !n.BindsTAN {
		d.TANLeft = water.ChloramineAmmonia(quantity.MgPerL(bound / float64(v.held.Median)))
	}
	return &d
}

// roundUp is millilitres that a syringe can measure and that are never too few: to a tenth, under one
// to a twentieth.
func roundUp(ml float64) float64 {
	step := 10.0
	if ml < 1 {
		step = 20
	}
	return math.Ceil(ml*step-1e-9) / step
}

// path is the days of a staged path by the medians, a week of them at most: what each leaves behind.
func (v *visit) path(c choice, b blend, litres quantity.Litres) []PathStep {
	var out []PathStep
	now := v.now
	for day := range min(c.days, longestPath) {
		before := now
		now.Levels = now.Levels.Poured(b.mid, c.share)
		now.NO3 = change.After(now.NO3, b.no3, c.share, 1)
		now.TAN = change.After(now.TAN, 0, c.share, 1)
		step := PathStep{Day: day, Share: c.share, Litres: litres}
		for _, of := range []struct {
			of   quantity.Measurand
			a, b float64
		}{
			{quantity.OfGH, float64(before.GH), float64(now.GH)},
			{quantity.OfKH, float64(before.KH), float64(now.KH)},
			{quantity.OfEC, float64(before.EC), float64(now.EC)},
			{quantity.OfNO3, float64(before.NO3), float64(now.NO3)},
			{quantity.OfTAN, float64(before.TAN), float64(now.TAN)},
		} {
			if of.of == quantity.OfNO3 && (c.larger == nil || c.larger.Of != quantity.OfNO3) {
				continue // it does not drive the path
			}
			if known(of.a) && known(of.b) && (of.of != quantity.OfTAN || c.soft) {
				step.Effects = append(step.Effects, Effect{Of: of.of, Before: flat(of.a), After: flat(of.b), Tier: v.tierOf(of.of, of.b)})
			}
		}
		out = append(out, step)
	}
	return out
}

func flat(x float64) quantity.Band[float64] {
	return quantity.Band[float64]{Low: x, Lo: x, Median: x, Hi: x, High: x}
}

// tierOf is where a canonical value stands: past a line, or outside its keeping range.
func (v *visit) tierOf(of quantity.Measurand, x float64) husbandry.Tier {
	tier := v.lines.At(lineOf[of], x).Tier
	if k, ok := v.ranges.Of(of); ok && beyond(of, x, k.Range) {
		tier = max(tier, husbandry.Watch)
	}
	return tier
}

var lineOf = map[quantity.Measurand]husbandry.Watched{
	quantity.OfKH: husbandry.KHLine, quantity.OfNO3: husbandry.NitrateLine, quantity.OfNO2: husbandry.NitriteLine,
}
