package dynamics

import "math"

// AtHour is the state at an hour of the day (0 to 24, of the course's clock) when its day is like the days
// around it: total ammonia follows the usual meal, oxygen and CO2 follow the lamps. Everything else is
// slow and stays. The swings are periodic answers in closed form to food given off with a rate of 4/d
// after the meal and to light that is on or off; their mean over the day is the state itself.
func (c *Course) AtHour(p *Params, d *Deviations, s State, hour float64) State {
	var x scene
	x.begin(c, p, s)
	w := walk{c: c, d: d, to: c.Days, until: min(s.Day, c.Days-1e-6)}
	x.enterAt(&w)
	x.look()

	s.TAN = max(0, s.TAN+x.tanSwing(since(hour, c.Light.Meal)))
	gross := grossOverNet * x.photosynthesis() // mg O2/d, mean of the day
	lit := c.Light.Hours / 24
	t := since(hour, c.Light.On)
	s.Oxygen = max(0, s.Oxygen+gross*onOff(t, lit, x.exchanging()/x.Volume))
	buffer := x.carbonate.buffer(x.h, x.PCO2, &x.warm)
	dic := -gross / molarO2 * onOff(t, lit, x.co2Rate()) / x.Volume // mmol/L
	if part := dic / buffer / (1e3 * x.warm.kh) / s.PCO2; part > 0 {
		s.PCO2 *= 1 + part
	} else { // as CO2 runs short plants go slower
		s.PCO2 *= math.Exp(part)
	}
	return s
}

// enterAt takes up the forcing of the state's own day without doing what happens then.
func (x *scene) enterAt(w *walk) {
	for w.piece < len(w.c.Pieces)-1 && w.c.Pieces[w.piece].To <= w.until {
		w.piece++
	}
	x.enter(w.c, w.d, &w.c.Pieces[w.piece], int(w.until/Week))
}

// since is the part of a day that has gone from one hour to another.
func since(hour, from float64) float64 {
	t := math.Mod((hour-from)/24, 1)
	if t < 0 {
		t++
	}
	return t
}

// tanSwing is how far total ammonia lies over its mean, mg, t days after a daily meal: what the meal gives
// off as k e^(-k t), and what takes ammonia away at the rate l.
func (x *scene) tanSwing(t float64) float64 {
	a := x.per(x.TAN)
	l := (x.ammoniaOxidised() + x.uptake*monod(a, uptakeHalfAmmonia)) / max(x.TAN, 1e-9)
	k := mealRate
	if math.Abs(l-k) < 1e-3*k {
		l *= 1.003
	}
	given := x.load * x.piece.TAN
	if given <= 0 || l <= 0 {
		return 0
	}
	fall := -math.Expm1(-k)
	up := given * k / fall / (l - k)
	down := -up * fall / -math.Expm1(-l)
	return up*math.Exp(-k*t) + down*math.Exp(-l*t) - given/l
}

// photosynthesis is the oxygen of net growth, mg/d.
func (x *scene) photosynthesis() float64 {
	a, n := x.per(x.TAN), x.per(x.NO3)
	ammonium := x.uptake * monod(a, uptakeHalfAmmonia)
	nitrate := x.uptake * (1 - monod(a, uptakeHalfAmmonia)) * monod(n, uptakeHalfNitrate)
	return oxygenPerAmmonium*ammonium + oxygenPerNitrate*nitrate
}

// onOff is the periodic answer y of y' = -k y + u(t), where u is 1/lit - 1 for a part lit of the day and -1
// for the rest, at t days after the beginning of light.
func onOff(t, lit, k float64) float64 {
	if lit <= 0 || lit >= 1 {
		return 0
	}
	on, off := 1/lit-1, -1.0
	eOn, eOff := math.Exp(-k*lit), math.Exp(-k*(1-lit))
	dawn := (off/k*(1-eOff) + on/k*(1-eOn)*eOff) / (1 - eOn*eOff)
	if t < lit {
		return on/k + (dawn-on/k)*math.Exp(-k*t)
	}
	dusk := on/k + (dawn-on/k)*eOn
	return off/k + (dusk-off/k)*math.Exp(-k*(t-lit))
}

var (
	mealRate     = table.Value("meal rate")
	grossOverNet = table.Value("gross over net")
)
