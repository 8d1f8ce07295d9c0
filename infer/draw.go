package infer

import (
	"math"
	"math/rand/v2"

	"halfwater/quantity"
	"halfwater/water"
)

// draw fills the belief with draws from where the walk has come to.
func (w *walk) draw(b *Belief, seed uint64) {
	g := &w.g
	const n = held + 1
	root := g.root(n)
	var z [n + 4][]float64
	for i := range z {
		z[i] = shuffled(seed, uint64(i))
	}
	tan := w.tan.draws(ranks(z[n]))
	no2 := w.no2.draws(ranks(z[n+1]))
	known := func(slot int, x float64) float64 {
		if !w.known[slot] {
			return math.NaN()
		}
		return x
	}
	b.Draws = make([]Draw, draws)
	for i := range b.Draws {
		var x [n]float64
		for j := range n {
			x[j] = g.mean[j]
			for k := 0; k <= j; k++ {
				x[j] += root[j][k] * z[k][i]
			}
		}
		for _, slot := range [...]int{nitrate, kh, gh, ions, chloride, vapour} {
			x[slot] = above(x[slot], g.mean[slot], g.sd(slot), 0)
		}
		litres := w.box.quantile(phi(x[held] / max(g.sd(held), 1e-9)))
		now := math.Max(litres-w.missing, 0.3*litres)
		thick := litres / now // evaporation has thickened it
		d := Draw{
			Reserve: math.NaN(), KHInHand: math.NaN(),
			Temp:     quantity.Celsius(known(warmth, x[warmth]+value("wander.temp_hour")*z[n+2][i])),
			GH:       quantity.Hardness(known(gh, x[gh]*thick)),
			KH:       quantity.Alkalinity(known(kh, x[kh]*thick)),
			EC:       quantity.Conductivity(known(ions, conducted(x[ions]*thick))),
			NO3:      quantity.Nitrate(known(nitrate, x[nitrate]*thick)),
			Chloride: quantity.MgPerL(known(chloride, x[chloride]*thick)),
			TAN:      quantity.TotalAmmonia(tan[i]), NO2: quantity.Nitrite(no2[i]),
			NO3Rise: quantity.Nitrate(known(nitrate, 7*x[rise])), KHFall: quantity.Alkalinity(known(kh, 7*x[fall])),
			Evaporation: quantity.LitresPerDay(x[vapour]),
			Leak:        quantity.LitresPerDay(math.NaN()),
			Held:        quantity.HeldLitres(math.NaN()),
		}
		if w.box.known {
			d.Held = quantity.HeldLitres(now)
		}
		d.PH, d.PCO2 = w.acidity(d, x[ph]+value("wander.ph_hour")*z[n+3][i], z[n+3][i])
		b.Draws[i] = d
	}
}

// acidity is pH and the CO2 that goes with it. A pH that was never read rests on the CO2 that is usual.
func (w *walk) acidity(d Draw, level, z float64) (quantity.PH, quantity.Atm) {
	nan := math.NaN()
	if !w.known[ph] {
		return quantity.PH(nan), quantity.Atm(nan)
	}
	if !w.phRead {
		c, _ := d.Composition()
		p := quantity.Atm(1e-6 * value("co2.usual") * math.Exp(z*math.Log(5000.0/450)/(2*z95)))
		if s, err := water.Open(c, p); err == nil {
			return s.PH, p
		}
		return byBicarbonate(d.KH, p), p
	}
	return d.pressed(level)
}

// pressed is a pH held within what may be, and the pressure of CO2 that goes with it.
func (d Draw) pressed(level float64) (quantity.PH, quantity.Atm) {
	c, whole := d.Composition()
	level = min(max(level, 3.5), 10.5)
	if !whole {
		return quantity.PH(level), quantity.Atm(math.NaN())
	}
	if s, err := water.GivenPH(c, quantity.PH(level)); err == nil && s.PCO2 > 0 {
		return quantity.PH(level), s.PCO2
	}
	// Next to no alkalinity, and a pH that it does not bear.
	return quantity.PH(level), quantity.Atm(roomy * leastKH(d.KH) * math.Pow(10, 7.45-level))
}

// byBicarbonate is what bicarbonate alone would say of a water that nothing whole can be made of.
func byBicarbonate(kh quantity.Alkalinity, p quantity.Atm) quantity.PH {
	return quantity.PH(min(max(7.45+math.Log10(roomy*leastKH(kh)/float64(p)), 3.5), 10.5))
}

// roomy is the CO2, atm, at which pH is 7.45 with 1 dKH, 25 C: by bicarbonate alone.
const roomy = 8e-4

func leastKH(kh quantity.Alkalinity) float64 { return math.Max(float64(kh), 0.02) }

// Composition is a water that fits the draw, for questions of pH after mixing: calcium and magnesium
// four to one, sodium or chloride making up the charge. GH that is not known is taken as KH. Whole is
// false when KH is not known.
func (d Draw) Composition() (c water.Composition, whole bool) {
	or := func(x, other float64) float64 {
		if math.IsNaN(x) {
			return other
		}
		return x
	}
	if math.IsNaN(float64(d.KH)) {
		return c, false
	}
	hard := quantity.Hardness(or(float64(d.GH), float64(d.KH))).Mmol()
	c = water.Composition{
		Temperature: quantity.Celsius(min(max(or(float64(d.Temp), 25), 1), 40)),
		Ca:          water.Molality(0.8 * hard), Mg: water.Molality(0.2 * hard),
		Cl:  water.Molality(or(float64(d.Chloride), 0) / water.MolarCl),
		NO3: water.Molality(or(float64(d.NO3), 0) / water.MolarN),
		TAN: water.Molality(or(float64(d.TAN), 0) / water.MolarN),
		NO2: water.Molality(or(float64(d.NO2), 0) / water.MolarN),
		Alk: water.FromTitration(d.KH, 0),
	}
	if rest := c.Alk - c.StrongIonBalance(); rest > 0 {
		c.Na = water.Molality(rest)
	} else {
		c.Cl += water.Molality(-rest)
	}
	return c, true
}

// shuffled are the middles of equally likely slices of a standard normal, in an order of their own:
// few draws, and yet every margin is whole.
func shuffled(seed, stream uint64) []float64 {
	out := append([]float64(nil), slices500...)
	r := rand.New(rand.NewPCG(seed, stream))
	r.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

var slices500 = func() []float64 {
	out := make([]float64, draws)
	for i := range out {
		out[i] = quantile((float64(i) + 0.5) / draws)
	}
	return out
}()

func ranks(z []float64) []float64 {
	out := make([]float64, len(z))
	for i, x := range z {
		out[i] = phi(x)
	}
	return out
}
