package dynamics

import "math"

// carbonate is the acid and base side of a water at one pressure of CO2: the terms of
//
//	alk = bic/h + 2 car/h^2 + oh/h - acid h + NH3(h) + HPO4(h) + organic(h)
//
// per litre, meq, with h the activity of H+. Each falls with h, so there is one root. Bicarbonate,
// carbonate and phosphate include their pairs with calcium and magnesium; activities follow Davies. Against the full
// speciation of package water pH is mostly good to 0.01, at worst to 0.03.
type carbonate struct {
	alk            float64 // meq/L
	bic, car       float64 // mmol/L times h, h^2
	oh, acid       float64
	ammonia, ka    float64 // mmol N/L; conditional constant
	phosphate, kp  float64
	doc            float64 // mg C/L
	freeCO3, freeC float64 // activities: CO3-- is freeCO3/h^2, Ca++ is freeC, mol/kg
	loose          float64 // carbonate in no pair, mmol/L times h^2
}

// of sets the terms for a state's amounts in a volume.
func (c *carbonate) of(s *State, volume, alk, tan, pCO2 float64, w *warmth) {
	inv := 1 / volume
	ca, mg, so4 := s.Ca*inv, s.Mg*inv, s.SO4*inv
	strength := 0.5e-3 * (4*(ca+mg+so4) + (s.Na+s.K+s.Cl+math.Abs(alk))*inv + (tan+s.NO3+s.NO2)*inv*perN)
	root := math.Sqrt(strength)
	ln := w.davies * (root/(1+root) - 0.3*strength)
	g := fastExp(ln)   // 1/gamma of a single charge
	g2 := g * g        //
	two := 1 / g2 / g2 // gamma of a double charge
	aSO4 := 1e-3 * so4 * two
	aCa := 1e-3 * ca * two / (1 + w.calciumSO4*aSO4*two)
	aMg := 1e-3 * mg * two / (1 + w.magnesSO4*aSO4*two)
	co2 := 1e3 * w.hydration * pCO2
	c.alk = alk * inv
	c.bic = co2 * (g + w.calcium2*aCa*g + w.magnes2*aMg*g)
	c.freeCO3 = 1e-3 * co2 * w.second
	c.car = co2 * w.second * (g2*g2 + w.calcium3*aCa + w.magnes3*aMg)
	c.freeC, c.loose = aCa, co2*w.second*g2*g2
	c.oh, c.acid = 1e3*w.kw*g, 1e3*g
	c.ammonia, c.ka = (tan+s.Bound)*inv*perN, w.ammonium/g
	c.phosphate, c.kp = s.PO4*inv*perP, phosphoric*(g2*g2+caHPO4*aCa+mgHPO4*aMg)/g
	c.doc = s.DOC * inv
}

const (
	exactly = 1e-5
	nearly  = 2e-3
)

var (
	phosphoric = math.Pow(10, -(waterConstants["H2PO4, 25"].Value - waterConstants["HPO4, 25"].Value)) // second, 25 C
	caHPO4     = math.Pow(10, waterConstants["CaHPO4, 25"].Value)
	mgHPO4     = math.Pow(10, waterConstants["MgHPO4, 25"].Value)
	sites      = waterConstants["site density"].Value / 3 * 1e-3 // meq/mg and site
	organic1   = math.Pow(10, -waterConstants["pK1"].Value)
	organic2   = organic1 * math.Pow(10, -waterConstants["pK2"].Value)
	organic3   = organic2 * math.Pow(10, -waterConstants["pK3"].Value)
	endCharge  = func() float64 { q, _ := organicAt(math.Pow(10, -waterConstants["end point"].Value)); return q }()
)

// organicAt is the charge of organic acid per mg of carbon, meq, and its slope with ln h (Hruska 2003).
func organicAt(h float64) (q, slope float64) {
	a, b, d := h*h*h, organic1*h*h, organic2*h
	sum := 1 / (a + b + d + organic3)
	z := (b + 2*d + 3*organic3) * sum
	zz := (b + 4*d + 9*organic3) * sum
	return sites * z, -sites * (zz - z*z)
}

// solve finds h, beginning at a guess: Newton in ln h, steps no longer than 2, until a step is smaller
// than enough. The error that is left is about the square of that step at most: 1e-10 for exactly, and 4e-6 for
// nearly; a rate needs no more.
func (c *carbonate) solve(h, enough float64) float64 {
	for range 60 {
		inv := 1 / h
		bic, car := c.bic*inv, c.car*inv*inv
		f, slope := c.others(h, inv)
		step := 0.0
		if h, step = stepped(h, f+bic+2*car, slope-bic-4*car); step < enough && step > -enough {
			break
		}
	}
	return h
}

// closed finds h and the factor on the pressure of CO2, which was pCO2, for a water that holds so much
// inorganic carbon, mmol/L.
func (c *carbonate) closed(h, carbon, pCO2 float64, w *warmth) (float64, float64) {
	co2 := 1e3 * w.kh * pCO2
	for range 60 {
		inv := 1 / h
		bic, car := c.bic*inv, c.car*inv*inv
		held, charged := co2+bic+car, bic+2*car
		by := carbon / held
		f, slope := c.others(h, inv)
		step := 0.0
		if h, step = stepped(h, f+by*charged, slope-by*(bic+4*car-charged*charged/held)); step < exactly && step > -exactly {
			break
		}
	}
	return h, carbon / (co2 + c.bic/h + c.car/(h*h))
}

// others is alkalinity beside bicarbonate and carbonate, less what there is, and its slope with ln h.
func (c *carbonate) others(h, inv float64) (f, slope float64) {
	oh, acid := c.oh*inv, c.acid*h
	f, slope = oh-acid-c.alk, -oh-acid
	if c.ammonia > 0 {
		n := c.ka / (c.ka + h)
		f += c.ammonia * n
		slope -= c.ammonia * n * (1 - n)
	}
	if c.phosphate > 0 {
		n := c.kp / (c.kp + h)
		f += c.phosphate * n
		slope -= c.phosphate * n * (1 - n)
	}
	if c.doc > 0 {
		q, dq := organicAt(h)
		f += c.doc * q
		slope += c.doc * dq
	}
	return f, slope
}

// stepped is one step of Newton in ln h, no longer than 2.
func stepped(h, f, slope float64) (next, step float64) {
	step = min(max(-f/slope, -2), 2)
	if step < 0.02 && step > -0.02 {
		return h * (1 + step*(1+step*(1./2+step*(1./6+step*(1./24))))), step
	}
	return h * fastExp(step), step
}

// shift moves the terms to another alkalinity, meq/L, ammonia and phosphate, mmol/L, and to so many times the pressure of CO2;
// the ions stay as they were.
func (c *carbonate) shift(alk, ammonia, phosphate, co2 float64) {
	c.alk, c.ammonia, c.phosphate = alk, ammonia, phosphate
	c.bic *= co2
	c.car *= co2
	c.freeCO3 *= co2
	c.loose *= co2
}

// guess is where solve may begin without a better one.
func (c *carbonate) guess() float64 {
	if c.alk > 0.01 {
		return c.bic / c.alk
	}
	return 1e-6
}

// bicarbonate is HCO3-, pairs included, mmol/L.
func (c *carbonate) bicarbonate(h float64) float64 { return c.bic / h }

// saturation is a Ca++ a CO3-- over the solubility product of aragonite.
func (c *carbonate) saturation(h float64, w *warmth) float64 {
	return c.freeC * c.freeCO3 / (h * h) / w.aragonite
}

// dic is all inorganic carbon, mmol/L.
func (c *carbonate) dic(h float64, pCO2 float64, w *warmth) float64 {
	return 1e3*w.kh*pCO2 + c.bic/h + c.car/(h*h)
}
