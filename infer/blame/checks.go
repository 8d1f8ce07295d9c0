package blame

import (
	"slices"

	"halfwater/kit"
	"halfwater/quantity"
)

// checks are what to do next, as codes of sentences, so that the culprits of a contradiction are told apart:
// what tells most first.
func (c *court) checks(con Contradiction) []string {
	var out []string
	add := func(codes ...string) {
		for _, code := range codes {
			if !slices.Contains(out, code) {
				out = append(out, code)
			}
		}
	}
	likely := func(code string) bool {
		return slices.ContainsFunc(con.Culprits, func(x Culprit) bool { return x.Code == code && x.Odds >= 0.05 })
	}
	strips, pens, undated := c.forms(con)
	if likely(ByUnit) {
		switch con.Of {
		case quantity.OfTAN, quantity.OfNO2, quantity.OfNO3, quantity.OfPO4:
			add("infer.check-basis")
		default:
			add("infer.check-unit")
		}
	}
	if con.Of == quantity.OfPH && (strips || pens) {
		if undated {
			add("infer.check-calibrated-when")
		}
		if pens {
			add("infer.check-buffers")
		}
		if strips && soft(c.q, c.scales.seen) {
			add("infer.check-strip-soft")
		}
		add("infer.check-kh-co2")
	}
	if likely(ByPen) && con.Of != quantity.OfPH {
		if undated {
			add("infer.check-calibrated-when")
		}
		add("infer.check-calibrate")
	}
	if likely(ByReading) || likely(ByDecimal) || likely(ByChance) {
		if (con.Of == quantity.OfTAN || con.Of == quantity.OfNO2) && c.higher(con) {
			add("infer.check-again-now")
		} else {
			add("infer.check-again")
		}
		if con.Of == quantity.OfNO3 {
			add("infer.check-shake")
		}
	}
	if likely(ByLot) || likely(ByUnit) {
		switch con.Of {
		case quantity.OfNO3:
			add("infer.check-shake", "infer.check-blank", "infer.check-standard-no3", "infer.check-dilution")
		case quantity.OfTAN, quantity.OfNO2, quantity.OfPO4:
			add("infer.check-blank", "infer.check-dilution")
		case quantity.OfGH, quantity.OfKH:
			add("infer.check-blank", "infer.check-dilution")
		}
	}
	if likely(ByLog) {
		add("infer.check-log")
	}
	if likely(ByWater) {
		add("infer.check-tomorrow")
	}
	return out
}

// higher reports whether the last reading of the quantity is one of those, and lies above what its kit was to see.
func (c *court) higher(con Contradiction) bool {
	above := false
	for i, w := range c.q.Witnesses {
		if w.Of == con.Of {
			above = slices.Contains(con.Lines, w.Line.ID) && c.q.Readings[i].Scale(w.Middle) > c.scales.mean[i]
		}
	}
	return above
}

// forms tells whether strips or cards, and whether pens, are among the readings, and whether one of the pens has no
// date of calibration.
func (c *court) forms(con Contradiction) (strips, pens, undated bool) {
	for _, w := range c.q.Witnesses {
		if !slices.Contains(con.Lines, w.Line.ID) {
			continue
		}
		k, ok := c.kits.at(w)
		switch {
		case !ok:
		case k.Form == kit.Meter:
			pens = true
			undated = undated || k.Calibrated.IsZero()
		case k.Form == kit.Strip || k.Form == kit.Card:
			strips = true
		}
	}
	return strips, pens, undated
}
