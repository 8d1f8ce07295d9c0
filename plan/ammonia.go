package plan

import (
	"math"
	"sync"

	"halfwater/change"
	"halfwater/husbandry"
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
		g := b.doses[j]
		n, a := water.Molality(g), s.gram
		c.Ca, c.Mg, c.Na, c.K = c.Ca+n*a.Ca, c.Mg+n*a.Mg, c.Na+n*a.Na, c.K+n*a.K
		c.Cl, c.SO4 = c.Cl+n*a.Cl, c.SO4+n*a.SO4
		c.Alk += water.Equivalents(g) * a.Alk
		m.DIC += n * a.DIC
	}
	if n, ok := v.neutraliser(); !ok || !n.BindsTAN {
		c.TAN += water.Molality(float64(water.ChloramineAmmonia(quantity.MgPerL(bound))) / water.MolarN)
	}
	if known(v.now.Temp) {
		c.Temperature = v.now.Temp // it is warmed before it is poured
	}
	return change.Carbonated{Composition: c, DIC: m.DIC}, true
}

// tank is the enclosure's water with the CO2 that it has.
type tank struct {
	change.Carbonated
	pCO2 quantity.Atm
}

// laterCO2 is the CO2 to which the enclosure comes within two days, in draw i: somewhere between
// its own and that of a well stirred surface, on a logarithmic scale; its own when that is less.
func laterCO2(own quantity.Atm, i int) quantity.Atm {
	if own <= change.AiredCO2 {
		return own
	}
	u := spreadOf(quantity.Range[float64]{Lo: 0, Hi: 1}, i, laterSalt)
	return own * quantity.Atm(math.Pow(float64(change.AiredCO2/own), u))
}

// laterSalt keeps the draws of CO2 apart from those of the sources.
const laterSalt = 97

// carbonated is the water of a draw with its carbon. Calcium to magnesium is taken as 3:1, the
// remaining charge as sodium or chloride: pH and free ammonia hardly feel it. False for a draw
// without pH or KH, or one whose pH and KH contradict each other.
func carbonated(d *infer.Draw) (tank, bool) {
	gh := d.GH.Mmol()
	if !known(gh) {
		gh = 0.5 * d.KH.Meq()
	}
	c := water.Composition{
		Temperature: d.Temp, Ca: water.Molality(0.75 * gh), Mg: water.Molality(0.25 * gh),
		NO3: water.Molality(orZero(float64(d.NO3)) / water.MolarN), NO2: water.Molality(orZero(float64(d.NO2)) / water.MolarN),
		TAN: water.Molality(orZero(float64(d.TAN)) / water.MolarN), Cl: water.Molality(orZero(float64(d.Chloride)) / water.MolarCl),
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
		return tank{}, false
	}
	s, err := water.GivenPH(c, d.PH)
	if err != nil {
		if !(d.PCO2 > 0) {
			return tank{}, false
		}
		if s, err = water.Open(c, d.PCO2); err != nil {
			return tank{}, false
		}
	}
	return tank{change.Carbonated{Composition: c, DIC: s.DIC}, s.PCO2}, true
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return max(x, 0)
}

// mixtures computes what a pour does to pH and ammonia in every n-th draw; left out counts the draws
// that cannot be computed.
func (v *visit) mixtures(pour change.Carbonated, shares func(*infer.Draw) quantity.Share, every int) (done []change.Mixture, leftOut int) {
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
			m, err := change.Mix(now.Carbonated, pour, shares(d), laterCO2(now.pCO2, k*every))
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
	return out, len(slots) - len(out)
}

// workers share the chemistry of the draws; the answer does not depend on how many they are.
const workers = 2

// few is how many draws are enough to see that a chance is nowhere near a limit.
const few = 100

// harm is the chance that a pour does what it must not: takes ammonia past its act line and above what
// is there now ([change.Mixture.Passes]), or, for the small steps out of bad water, above what would
// come without them ([change.Mixture.Harms]). NaN when it cannot be told. The litres are the same in every draw, so the share differs with what is
// held. A draw that cannot be computed counts as harm. All draws are counted when a hundred of them
// say that it is near the limit.
func (v *visit) harm(b blend, list []salt, x quantity.Share, bad func(change.Mixture, husbandry.Lines) bool) float64 {
	pour, ok := v.poured(b, list)
	if !ok || !known(v.now.TAN) || !known(v.now.PH) || !known(v.now.KH) {
		return math.NaN()
	}
	every := max(len(v.draws)/few, 1)
	for {
		mixtures, n := v.mixtures(pour, func(d *infer.Draw) quantity.Share { return v.shareOf(d, x) }, every)
		if len(mixtures) == 0 {
			return math.NaN()
		}
		total := len(mixtures) + n
		for i := range mixtures {
			if bad(mixtures[i], v.lines) {
				n++
			}
		}
		p := float64(n) / float64(total)
		if every == 1 || p < hardLimit/4 || p > 4*hardLimit {
			return p
		}
		every = 1
	}
}

// withinAmmonia holds the change against free ammonia at mixing and within two days. When it
// harms, the sheet says so and takes small steps with water that brings little alkalinity.
func (v *visit) withinAmmonia(c *choice) {
	if !known(v.now.TAN) && known(v.now.PH) && v.now.PH < lowPH {
		v.refuse(Refused{Code: "plan.test-tan-first-pour", Of: quantity.OfTAN, Value: float64(v.now.PH), Unit: "pH"})
		c.share, c.days = 0, 0
		return
	}
	c.harm = v.harm(c.blend, c.salts, c.share, change.Mixture.Passes)
	if !(c.harm > hardLimit) {
		return
	}
	v.refuse(Refused{Code: "plan.ammonia-not-in-one-visit", Of: quantity.OfTAN, Value: c.harm, Limit: hardLimit, Unit: "chance"})
	for _, rise := range []quantity.Alkalinity{0.5, 0.25, 0} {
		for _, x := range []quantity.Share{0.15, 0.10, 0.05} {
			if b, ok := v.softBlend(rise, x); ok && v.smallStep(c, b, x) {
				return
			}
		}
	}
	if v.smallStep(c, v.only(v.softest()), 0.05) {
		return
	}
	v.refuse(Refused{Code: "plan.ammonia-no-step", Of: quantity.OfTAN})
	c.share, c.days = 0, 0
}

// smallStep takes a blend for the small steps when it does no harm in one.
func (v *visit) smallStep(c *choice, b blend, x quantity.Share) bool {
	most, _ := v.mostInADay(b)
	x = min(x, c.share, most)
	if v.harm(b, nil, x, change.Mixture.Harms) > hardLimit {
		return false
	}
	c.blend, c.salts, c.share, c.soft = b, nil, x, true
	c.days = v.softDays(b, x)
	return true
}

// softBlend is the blend that holds KH, a little above where it is, and GH as well as it goes.
func (v *visit) softBlend(rise quantity.Alkalinity, x quantity.Share) (blend, bool) {
	wishes := []wish{{of: quantity.OfKH, want: float64(v.now.KH + rise), weight: 100}}
	if known(v.now.GH) {
		wishes = append(wishes, wish{of: quantity.OfGH, want: float64(v.now.GH), weight: 0.1})
	}
	return v.blended(wishes, v.litres(x), nil)
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
		tan += b.shares[i] * float64(s.carbon.Composition.TAN) * water.MolarN
	}
	n, ok := change.Needed(float64(v.now.TAN), float64(enoughTAN), tan, x)
	if !ok {
		return 1
	}
	return max(n, 1)
}
