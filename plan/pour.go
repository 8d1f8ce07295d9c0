package plan

import (
	"math"

	"halfwater/change"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
)

// pour plans what goes out and what goes back in, and what that does.
func (v *visit) pour(s *Sheet) {
	v.refuseTableSalt()
	if !known(v.held.Median) || v.held.Median <= 0 {
		v.refuse(Refused{Code: "plan.no-held-water"})
		v.unchanged(s)
		return
	}
	if len(v.sources) == 0 {
		v.refuse(Refused{Code: "plan.no-source"})
		v.unchanged(s)
		return
	}
	c, ok := v.choose()
	if !ok {
		v.refuse(Refused{Code: "plan.store-too-small"})
		v.unchanged(s)
		return
	}
	out := v.litres(c.share)
	if c.share == 0 || out == 0 {
		v.unchanged(s)
		return
	}
	poured := out
	if v.level.ok {
		var siphon Siphon
		siphon, poured = v.mark(out)
		if siphon.Mark >= siphon.Now || poured <= 0 {
			v.refuse(Refused{Code: "plan.level-too-low", Of: quantity.OfLevel, Value: float64(siphon.Now), Limit: float64(siphon.Stop), Unit: "mm"})
			v.unchanged(s)
			return
		}
		if siphon.Out.Median < out*0.9 {
			v.refuse(Refused{Code: "plan.stop-line", Of: quantity.OfLevel, Value: float64(out), Limit: float64(siphon.Out.Median), Unit: "L"})
		}
		out = siphon.Out.Median
		s.Siphon = &siphon
	}
	v.fill(s, c, out, poured)
}

// fill makes the pour of a choice: litres to the half litre, vessels, salts, neutraliser.
func (v *visit) fill(s *Sheet, c choice, out, litres quantity.Litres) {
	most := make([]quantity.Litres, len(v.sources))
	for i := range v.sources {
		most[i] = v.sources[i].store
	}
	cut := toHalves(halves(litres), c.blend.shares, most)
	shares := make([]float64, len(cut))
	p := Pour{Litres: litres, Plateau: c.plateaus, Weights: map[quantity.Measurand]float64{}}
	for i, n := range cut {
		shares[i] = float64(n) / float64(halves(litres))
		if n > 0 {
			p.Parts = append(p.Parts, Part{v.sources[i].name, quantity.Litres(n) / 2, quantity.Share(shares[i])})
		}
	}
	b := v.blendOf(shares, c.blend.doses, c.salts)
	if c.salts != nil {
		p.Salts = weighed(c.salts, c.blend.doses, litres)
	}
	wishes := v.wishes(c.share)
	for _, w := range wishes {
		p.Weights[w.of] = w.weight
	}
	if !c.soft {
		p.Gaps = v.gaps(wishes, b)
	}
	p.Vessels = fills(p.Parts, v.Facts.Vessels)
	p.Neutraliser = v.neutralise(cut, litres)
	p.Temp = v.temperature(b, c.share)
	p.RO = v.startRO(cut, wishes, litres)
	exchange := func(d *infer.Draw) quantity.Share {
		return quantity.Share(float64(litres) / (float64(d.Held) - float64(out) + float64(litres)))
	}
	p.Share = quantity.Share(float64(litres) / (float64(v.held.Median) - float64(out) + float64(litres)))
	mixes := v.mixes(b, c.salts)
	p.Mix = v.mix(b, mixes)
	if c.days > 1 {
		p.Path, p.PathDays = v.path(c, b, litres), c.days
	}
	s.Pour = &p
	s.Effects = v.effects(b, c, mixes, exchange)
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
	}
	return t
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
func (v *visit) neutralise(cut []int, litres quantity.Litres) *NeutraliserDose {
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
	d.Millilitres = math.Round(float64(d.ForLitres)/float64(n.ForLitres)*n.MlPer*10) / 10
	if bound > 0 && !n.BindsTAN {
		d.TANLeft = change.ChloramineNitrogen(quantity.MgPerL(bound / float64(v.held.Median)))
	}
	return &d
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
			{quantity.OfGH, float64(before.GH), float64(now.GH)}, {quantity.OfKH, float64(before.KH), float64(now.KH)},
			{quantity.OfEC, float64(before.EC), float64(now.EC)}, {quantity.OfTAN, float64(before.TAN), float64(now.TAN)},
		} {
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
	if k, ok := v.ranges.Of(of); ok && !k.Range.Has(x) {
		tier = max(tier, husbandry.Watch)
	}
	return tier
}

var lineOf = map[quantity.Measurand]husbandry.Watched{
	quantity.OfKH: husbandry.KHLine, quantity.OfNO3: husbandry.NitrateLine, quantity.OfNO2: husbandry.NitriteLine,
}
