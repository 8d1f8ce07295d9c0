package plan

import (
	"math"
	"sync"

	"halfwater/change"
	"halfwater/infer"
	"halfwater/quantity"
	"halfwater/water"
)

// poured is a water to be poured, with its carbon.
func (v *visit) poured(b blend, list []salt) (change.Carbonated, bool) {
	parts := make([]water.Part, 0, len(v.sources))
	var bound float64
	for i, s := range v.sources {
		if b.shares[i] > 0 {
			parts = append(parts, water.Part{Composition: s.carbon.Composition, DIC: s.carbon.DIC, Litres: quantity.Litres(b.shares[i])})
			bound += b.shares[i] * float64(s.bound)
		}
	}
	m, err := water.Blend(parts)
	if err != nil {
		return change.Carbonated{}, false
	}
	c := m.Composition
	for j, s := range list {
		dose := water.Molality(b.doses[j])
		c.Ca += dose * water.Molality(s.ca)
		c.Mg += dose * water.Molality(s.mg)
		c.Na += dose * water.Molality(s.na)
		c.K += dose * water.Molality(s.k)
		c.Cl += dose * water.Molality(s.cl)
		c.SO4 += dose * water.Molality(s.so4)
		c.Alk += water.Equivalents(b.doses[j] * s.alk)
		m.DIC += dose * water.Molality(s.alk) // bicarbonate brings its carbon
	}
	if n, ok := v.neutraliser(); !ok || !n.BindsTAN {
		c.TAN += water.Molality(float64(change.ChloramineNitrogen(quantity.MgPerL(bound))) / molarN)
	}
	if known(v.now.Temp) {
		c.Temperature = v.now.Temp // it is warmed before it is poured
	}
	return change.Carbonated{Composition: c, DIC: m.DIC}, true
}

// carbonated is the water of a draw with its carbon. Calcium to magnesium is taken as 3:1, the
// remaining charge as sodium or chloride: pH and free ammonia hardly feel it. False for a draw
// without pH or KH, or one whose pH and KH contradict each other.
func carbonated(d *infer.Draw) (change.Carbonated, bool) {
	gh := d.GH.Mmol()
	if !known(gh) {
		gh = 0.5 * d.KH.Meq()
	}
	c := water.Composition{
		Temperature: d.Temp, Ca: water.Molality(0.75 * gh), Mg: water.Molality(0.25 * gh),
		NO3: water.Molality(orZero(float64(d.NO3)) / molarN), NO2: water.Molality(orZero(float64(d.NO2)) / molarN),
		TAN: water.Molality(orZero(float64(d.TAN)) / molarN), Cl: water.Molality(orZero(float64(d.Chloride)) / molarCl),
		Alk: water.FromTitration(d.KH, 0),
	}
	if !known(c.Temperature) {
		c.Temperature = usualTemp
	}
	if excess, _ := c.ChargeImbalance(); excess > 0 {
		c.Cl += water.Molality(excess)
	} else {
		c.Na -= water.Molality(excess)
	}
	if !known(d.KH) || !known(d.PH) {
		return change.Carbonated{}, false
	}
	s, err := water.GivenPH(c, d.PH)
	if err != nil {
		if !(d.PCO2 > 0) {
			return change.Carbonated{}, false
		}
		if s, err = water.Open(c, d.PCO2); err != nil {
			return change.Carbonated{}, false
		}
	}
	return change.Carbonated{Composition: c, DIC: s.DIC}, true
}

const (
	molarCl                    = 35.45 // g/mol, iupac2021
	usualTemp quantity.Celsius = 24    // of a heated enclosure of which no temperature is known; judgement
)

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return max(x, 0)
}

// mixtures computes what a pour does to pH and ammonia in every n-th draw; the draws that cannot
// be computed are left out. Within two days the enclosure comes to its own CO2 or, when that is
// more, to that of a well stirred surface.
func (v *visit) mixtures(pour change.Carbonated, shares func(*infer.Draw) quantity.Share, every int) []change.Mixture {
	type slot struct {
		m  change.Mixture
		ok bool
	}
	slots := make([]slot, (len(v.draws)+every-1)/every)
	work := func(from int) {
		for k := from; k < len(slots); k += workers {
			d := &v.draws[k*every]
			now, ok := carbonated(d)
			if !ok {
				continue
			}
			later := change.AiredCO2
			if d.PCO2 > 0 {
				later = min(d.PCO2, later)
			}
			m, err := change.Mix(now, pour, shares(d), later)
			slots[k] = slot{m, err == nil}
		}
	}
	var wait sync.WaitGroup
	for w := range workers {
		wait.Go(func() { work(w) })
	}
	wait.Wait()
	out := make([]change.Mixture, 0, len(slots))
	for _, s := range slots {
		if s.ok {
			out = append(out, s.m)
		}
	}
	return out
}

// workers share the chemistry of the draws; the answer does not depend on how many they are.
const workers = 2

// few is how many draws are enough to see that a chance is nowhere near a limit.
const few = 100

// harm is the chance that a pour takes ammonia past its act line and above what the enclosure
// would have without it; NaN when it cannot be told. All draws are counted when a hundred of them
// say that it is near the limit.
func (v *visit) harm(b blend, list []salt, x quantity.Share) float64 {
	pour, ok := v.poured(b, list)
	if !ok || !known(v.now.TAN) || !known(v.now.PH) || !known(v.now.KH) {
		return math.NaN()
	}
	every := max(len(v.draws)/few, 1)
	for {
		mixtures := v.mixtures(pour, func(*infer.Draw) quantity.Share { return x }, every)
		if len(mixtures) == 0 {
			return math.NaN()
		}
		n := 0
		for i := range mixtures {
			if mixtures[i].Harms(v.lines) {
				n++
			}
		}
		p := float64(n) / float64(len(mixtures))
		if every == 1 || p < hardLimit/4 || p > 4*hardLimit {
			return p
		}
		every = 1
	}
}

// enoughTAN is the total ammonia under which hard water may come back after low pH and much
// ammonia. Common practice, no source.
const enoughTAN quantity.TotalAmmonia = 0.5

// withinAmmonia holds the change against free ammonia at mixing and within two days. When it
// harms, the sheet says so and takes small steps with water that brings little alkalinity.
func (v *visit) withinAmmonia(c *choice) {
	p := v.harm(c.blend, c.salts, c.share)
	if !(p > hardLimit) {
		return
	}
	v.refuse(Refused{Code: "plan.ammonia-not-in-one-visit", Of: quantity.OfTAN, Value: p, Limit: hardLimit, Unit: "chance"})
	soft, okSoft := v.softBlend()
	softest := v.only(v.softest())
	for _, try := range []struct {
		b  blend
		ok bool
		x  quantity.Share
	}{
		{soft, okSoft, 0.15}, {soft, okSoft, 0.10}, {soft, okSoft, 0.05}, {softest, true, 0.10}, {softest, true, 0.05},
		{c.blend, len(c.salts) == 0, 0.05},
	} {
		if !try.ok {
			continue
		}
		most, _ := v.mostInADay(try.b)
		x := min(try.x, c.share, most)
		if v.harm(try.b, nil, x) > hardLimit {
			continue
		}
		c.blend, c.salts, c.share, c.soft = try.b, nil, x, true
		c.days = v.softDays(try.b, x)
		return
	}
	v.refuse(Refused{Code: "plan.ammonia-no-step", Of: quantity.OfTAN})
	c.share, c.days = 0, 0
}

// softBlend is the blend that keeps KH about where it is, a little above, and GH as well as it goes.
func (v *visit) softBlend() (blend, bool) {
	wishes := []wish{
		{of: quantity.OfKH, want: float64(v.now.KH) + 0.5, weight: 10},
		{of: quantity.OfGH, want: float64(v.now.GH), weight: 1},
	}
	if !known(v.now.GH) {
		wishes = wishes[:1]
	}
	return v.blended(wishes, v.litres(0.10), nil)
}

func (v *visit) softest() int {
	best := 0
	for i, s := range v.sources {
		if s.mid.KH < v.sources[best].mid.KH {
			best = i
		}
	}
	return best
}

func (v *visit) only(i int) blend {
	shares := make([]float64, len(v.sources))
	shares[i] = 1
	return v.blendOf(shares, nil, nil)
}

// softDays is how many small steps bring total ammonia under what hard water may meet.
func (v *visit) softDays(b blend, x quantity.Share) int {
	var tan float64
	for i, s := range v.sources {
		tan += b.shares[i] * float64(s.carbon.Composition.TAN) * molarN
	}
	n, ok := change.Needed(float64(v.now.TAN), float64(enoughTAN), tan, x)
	if !ok {
		return 1
	}
	return max(n, 1)
}
