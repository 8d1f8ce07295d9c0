package water

import (
	"math"

	"halfwater/quantity"
)

// Model chooses among published models where there is more than one. The zero Model is the
// default: ammonia after Emerson, organic acids after Hruska.
type Model struct {
	Ammonia AmmoniaModel
	Organic OrganicModel
}

// AmmoniaModel says whose acid constant of NH4+ is used.
type AmmoniaModel int

const (
	// Emerson and others 1975: pKa 9.246 at 25 C. The default.
	Emerson AmmoniaModel = iota
	// Parkhurst and Appelo 2013: pKa 9.244 at 25 C.
	Parkhurst
)

// GivenPH speciates a water whose pH and alkalinity are known; how much CO2 it holds follows.
// pH must lie in 2 to 12. Errors: [OutOfSpan], [Contradiction], [NotSettled].
func GivenPH(c Composition, ph quantity.PH) (Speciation, error) { return Model{}.GivenPH(c, ph) }

// Open speciates a water in equilibrium with a pressure of CO2 (0 to 10 atm): pH follows from the
// alkalinity. Errors: [OutOfSpan], [NoPH], [NotSettled].
func Open(c Composition, pCO2 quantity.Atm) (Speciation, error) { return Model{}.Open(c, pCO2) }

// Closed speciates a water that exchanges no CO2, from its dissolved inorganic carbon (0 to
// 1000 mmol/kg): pH follows from the alkalinity. Errors: [OutOfSpan], [NoPH], [NotSettled].
func Closed(c Composition, dic Molality) (Speciation, error) { return Model{}.Closed(c, dic) }

// pose is the way the carbon is known.
type pose int

const (
	givenPH pose = iota
	open
	closed
)

// GivenPH is [GivenPH] with a chosen model.
func (m Model) GivenPH(c Composition, ph quantity.PH) (s Speciation, err error) {
	if err := c.check(); err != nil {
		return s, err
	}
	if !(ph >= 2 && ph <= 12) {
		return s, OutOfSpan{"pH", float64(ph), 2, 12, ""}
	}
	var w state
	w.set(&c, m)
	w.h = math.Exp(-math.Ln10 * float64(ph))
	if !w.settle(givenPH, 0, mostPasses) {
		return s, NotSettled{w.residual()}
	}
	if w.strength > highestStrength {
		return s, OutOfSpan{"ionic strength", w.strength, 0, highestStrength, "mol/kg"}
	}
	if w.aCO3 == 0 {
		least, _ := w.others(w.h)
		if least-w.alk > 1e-9*max(math.Abs(w.alk), 1e-6) {
			return s, Contradiction{float64(ph), 1e3 * w.alk, 1e3 * least}
		}
	}
	w.report(&c, &s)
	s.PH = ph
	return s, nil
}

// Open is [Open] with a chosen model.
func (m Model) Open(c Composition, pCO2 quantity.Atm) (s Speciation, err error) {
	if !(pCO2 >= 0 && pCO2 <= 10) {
		return s, OutOfSpan{"CO2 pressure", float64(pCO2), 0, 10, "atm"}
	}
	return m.solve(c, open, float64(pCO2))
}

// Closed is [Closed] with a chosen model.
func (m Model) Closed(c Composition, dic Molality) (s Speciation, err error) {
	if !(dic >= 0 && dic <= 1000) {
		return s, OutOfSpan{"DIC", float64(dic), 0, 1000, "mmol/kg"}
	}
	return m.solve(c, closed, 1e-3*float64(dic))
}

func (m Model) solve(c Composition, as pose, carbon float64) (s Speciation, err error) {
	if err := c.check(); err != nil {
		return s, err
	}
	var w state
	w.set(&c, m)
	if as == open {
		carbon *= w.thermal[iHenry] // activity of CO2
	}
	w.h = w.guess(as, carbon)
	if !w.settle(as, carbon, manyPasses) && !w.bracket(&c, as, carbon) {
		return s, NotSettled{w.residual()}
	}
	if !(w.h > 1e-14 && w.h < 1) {
		return s, NoPH{1e3 * w.alk}
	}
	if w.strength > highestStrength {
		return s, OutOfSpan{"ionic strength", w.strength, 0, highestStrength, "mol/kg"}
	}
	w.report(&c, &s)
	return s, nil
}

// guess is a first h from bicarbonate alone.
func (w *state) guess(as pose, carbon float64) float64 {
	k := &w.thermal
	h := 1e-7
	k2 := 1 / k[iInvK2]
	switch {
	case as == open && w.alk > 0 && carbon > 0:
		h = k[iK1] * carbon / w.alk
	case as == closed && w.alk > 0 && w.alk < carbon:
		h = k[iK1]*(carbon-w.alk)/w.alk + k2
	case as == closed && w.alk >= carbon && w.alk < 2*carbon:
		h = k2 * (2*carbon - w.alk) / (w.alk - carbon + 1e-3*carbon)
	case w.alk < 0:
		h = -w.alk
	}
	return min(max(h, 1e-11), 1e-2)
}

// carbonate is the carbonate alkalinity for the present sums at h, its slope with ln h, and the
// activity of CO3-- that goes with it.
func (w *state) carbonate(as pose, carbon, h float64) (alk, slope, aCO3 float64) {
	switch as {
	case open:
		aCO3 = carbon / (w.thermal[iInvK12] * h * h)
		b, c := aCO3*w.bic*h, aCO3*w.car
		return b + 2*c, -b - 4*c, aCO3
	default:
		b, c, g := w.bic*h, w.car, w.cCO2*h*h
		f := 1 / (b + c + g)
		z := (b + 2*c) * f
		zz := (b + 4*c) * f
		return carbon * z, -carbon * (zz - z*z), carbon * f
	}
}

const (
	closeEnough = 1e-13 // largest relative move of an unknown at which a water has settled
	manyPasses  = 300   // enough for any water; ten or so is usual
	mostPasses  = 20000 // where nearly all of two partners is paired
)

// settle closes all balances at once, by substitution: anions and h for the present cations,
// cations for those anions, ionic strength, activity coefficients, and again. Each move shrinks
// by the product of the paired shares of cations and anions (both below one), so that for given
// h and activity coefficients it converges from anywhere. It reports whether it has.
func (w *state) settle(as pose, carbon float64, passes int) bool {
	// The activity coefficients are left alone once a pass moves everything, the ionic strength too,
	// by less than a millionth: what a next pass would move is a tenth of that or less, and it moves
	// an activity coefficient by a tenth of that again.
	const still = 1e-6
	frozen := false
	for pass := 0; pass < passes; pass++ {
		w.sums()
		move := 0.0
		if as == givenPH {
			rest, _ := w.others(w.h)
			w.aCO3 = max(w.alk-rest, 0) / (w.bic*w.h + 2*w.car)
		} else {
			// Newton on ln h; the sum falls strictly with h, so the slope is never zero.
			u := 0.0
			for try := 0; ; try++ {
				rest, slope := w.others(w.h)
				alk, steep, _ := w.carbonate(as, carbon, w.h)
				u = (w.alk - rest - alk) / (slope + steep)
				u = min(max(u, -3), 3)
				w.h *= expSmall(u)
				if math.Abs(u) < 0.03 || try == 20 {
					break
				}
			}
			if !(w.h > 1e-16 && w.h < 100) {
				return false
			}
			_, _, w.aCO3 = w.carbonate(as, carbon, w.h)
			move = math.Abs(u)
		}
		w.anions()
		move = max(move, w.cations())
		if !frozen {
			i := w.measureStrength()
			d := math.Abs(i - w.strength)
			w.strength = i
			if !(i < 20) { // far outside the span; NaN too
				return false
			}
			move = max(move, d/i)
			frozen = move <= still
			w.activities()
		}
		if frozen && move <= closeEnough {
			return true
		}
	}
	return false
}

// bracket is the slow road: bisection on ln h, the balances settled at each h. The alkalinity
// falls strictly with h, so the root is one and cannot be lost.
func (w *state) bracket(c *Composition, as pose, carbon float64) bool {
	lo, hi := math.Log(1e-15), math.Log(10.0)
	for range 80 {
		mid := (lo + hi) / 2
		w.set(c, w.model)
		w.h = math.Exp(mid)
		w.settleAt(as, carbon)
		rest, _ := w.others(w.h)
		alk, _, _ := w.carbonate(as, carbon, w.h)
		if rest+alk > w.alk {
			lo = mid
		} else {
			hi = mid
		}
	}
	return w.residual() <= 1e-9*max(math.Abs(w.alk), 1e-6)
}

// settleAt closes the balances at a fixed h.
func (w *state) settleAt(as pose, carbon float64) {
	for range mostPasses / 4 {
		w.sums()
		_, _, w.aCO3 = w.carbonate(as, carbon, w.h)
		w.anions()
		move := w.cations()
		i := w.measureStrength()
		i = min(i, 20)
		move = max(move, math.Abs(i-w.strength))
		w.strength = 0.5 * (w.strength + i)
		w.activities()
		if move <= closeEnough {
			return
		}
	}
}

// residual is the alkalinity that the present species leave unexplained, eq/kg.
func (w *state) residual() float64 {
	w.sums()
	rest, _ := w.others(w.h)
	return math.Abs(w.alk - rest - w.aCO3*(w.bic*w.h+2*w.car))
}
