package plan

import (
	"math"

	"halfwater/change"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
)

// made is what the pour is in draw i, within what the tests of its sources leave open.
func (v *visit) made(b blend, list []salt, i int) change.Levels {
	l := b.mid
	var gh, kh float64
	for k, s := range v.sources {
		if b.shares[k] == 0 {
			continue
		}
		gh += b.shares[k] * spreadOf(s.gh, i, 2*k)
		kh += b.shares[k] * spreadOf(s.kh, i, 2*k+1)
	}
	for j, s := range list {
		dose := b.doses[j] * spreadOf(quantity.Range[float64]{Lo: 1 - saltDoubt, Hi: 1 + saltDoubt}, i, 2*len(v.sources)+2+j)
		gh += dose * s.brings(quantity.OfGH)
		kh += dose * s.brings(quantity.OfKH)
	}
	l.GH, l.KH = quantity.Hardness(gh), quantity.Alkalinity(kh)
	around := func(x, by float64, salt int) float64 {
		return spreadOf(quantity.Range[float64]{Lo: x - by, Hi: x + by}, i, 2*len(v.sources)+salt)
	}
	ec := float64(b.mid.EC)
	l.EC = quantity.Conductivity(max(around(ec, max(ec*ecDoubt, ecLeast), 0), 0))
	l.Temp = quantity.Celsius(around(float64(b.mid.Temp), tempDoubt, 1))
	return l
}

// manyMade is in how many ways a mix is made up when there are no draws to go with.
const manyMade = 100

// mixes are the pour in each draw.
func (v *visit) mixes(b blend, list []salt) []change.Levels {
	out := make([]change.Levels, max(len(v.draws), manyMade))
	for i := range out {
		out[i] = v.made(b, list, i)
	}
	return out
}

// mix is what the poured water should read before it is poured.
func (v *visit) mix(b blend, mixes []change.Levels) []Effect {
	x := make([]float64, len(mixes))
	var out []Effect
	for _, of := range []quantity.Measurand{quantity.OfGH, quantity.OfKH, quantity.OfEC, quantity.OfWaterTemp} {
		if !known(levelOf(b.mid, of)) {
			continue
		}
		for i := range x {
			x[i] = levelOf(mixes[i], of)
		}
		after := band[float64](x)
		out = append(out, Effect{Of: of, Before: after, After: after})
	}
	return out
}

// vesselMix is the mix with its bands as wide as the vessels differ: half litres do not divide evenly.
func (v *visit) vesselMix(p Pour) []Effect {
	var out []Effect
	for _, e := range p.Mix {
		whole := v.levelOfParts(p.Parts, e.Of)
		lo, hi := 0.0, 0.0
		for _, f := range p.Vessels {
			off := v.levelOfParts(f.Parts, e.Of) - whole
			lo, hi = min(lo, off), max(hi, off)
		}
		e.After.Low, e.After.Lo = max(e.After.Low+lo, 0), max(e.After.Lo+lo, 0)
		e.After.High, e.After.Hi = e.After.High+hi, e.After.Hi+hi
		e.Before = e.After
		out = append(out, e)
	}
	return out
}

// levelOfParts is what litres of the source waters make, without salts.
func (v *visit) levelOfParts(parts []Part, of quantity.Measurand) float64 {
	var sum, litres float64
	for _, p := range parts {
		for _, s := range v.sources {
			if s.name == p.Source {
				sum += float64(p.Litres) * levelOf(s.mid, of)
				litres += float64(p.Litres)
			}
		}
	}
	return sum / litres
}

// effects are before and after of the visit.
func (v *visit) effects(b blend, c choice, mixes []change.Levels, x func(*infer.Draw) quantity.Share) []Effect {
	var out []Effect
	after := make([]float64, len(v.draws))
	add := func(of quantity.Measurand, before func(*infer.Draw) float64, poured func(i int) float64) {
		now := bandOf[float64](v, before)
		if !known(now.Median) {
			return
		}
		for i := range v.draws {
			d := &v.draws[i]
			after[i] = change.After(before(d), poured(i), x(d), 1)
		}
		e := Effect{Of: of, Before: now, After: band[float64](after)}
		e.Tier = v.tierOf(of, e.After.Median)
		out = append(out, e)
	}
	add(quantity.OfGH, func(d *infer.Draw) float64 { return float64(d.GH) }, func(i int) float64 { return float64(mixes[i].GH) })
	add(quantity.OfKH, func(d *infer.Draw) float64 { return float64(d.KH) }, func(i int) float64 { return float64(mixes[i].KH) })
	add(quantity.OfEC, func(d *infer.Draw) float64 { return float64(d.EC) }, func(i int) float64 { return float64(mixes[i].EC) })
	add(quantity.OfNO3, func(d *infer.Draw) float64 { return float64(d.NO3) }, func(int) float64 { return float64(b.no3) })
	return append(out, v.acidity(b, c, x)...)
}

// acidity are the effects on total ammonia, pH and free ammonia, with the highest within two days.
func (v *visit) acidity(b blend, c choice, x func(*infer.Draw) quantity.Share) []Effect {
	pour, ok := v.poured(b, c.salts)
	if !ok || !known(v.now.PH) || !known(v.now.KH) {
		return nil
	}
	mixtures, _ := v.mixtures(pour, x, max(len(v.draws)/few, 1))
	if len(mixtures) == 0 {
		return nil
	}
	xs := make([]float64, len(mixtures))
	over := func(f func(m *change.Mixture) float64) quantity.Band[float64] {
		for i := range mixtures {
			xs[i] = f(&mixtures[i])
		}
		return band[float64](xs)
	}
	highest := over(func(m *change.Mixture) float64 { return math.Max(float64(m.AtMixing.PH), float64(m.Later.PH)) })
	out := []Effect{{
		Of:        quantity.OfPH,
		Before:    over(func(m *change.Mixture) float64 { return float64(m.Before.PH) }),
		After:     over(func(m *change.Mixture) float64 { return float64(m.AtMixing.PH) }),
		Within48h: &highest,
	}}
	out[0].Tier = v.tierOf(quantity.OfPH, out[0].After.Median)
	if !known(v.now.TAN) {
		return out
	}
	tan := Effect{
		Of:     quantity.OfTAN,
		Before: over(func(m *change.Mixture) float64 { return float64(m.Before.TAN) }),
		After:  over(func(m *change.Mixture) float64 { return float64(m.AtMixing.TAN) }),
	}
	worst := over(func(m *change.Mixture) float64 { return float64(m.Worst().Free) })
	free := Effect{
		Of: quantity.OfTAN, Free: true,
		Before:    over(func(m *change.Mixture) float64 { return float64(m.Before.Free) }),
		After:     over(func(m *change.Mixture) float64 { return float64(m.AtMixing.Free) }),
		Within48h: &worst,
	}
	free.Tier = v.lines.At(husbandry.FreeAmmonia, worst.High).Tier
	tan.Tier = free.Tier
	return append(out, tan, free)
}
