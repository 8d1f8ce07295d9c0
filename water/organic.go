package water

import (
	"math"

	"halfwater/quantity"
)

// OrganicModel says how the charge of natural organic acids is computed.
type OrganicModel int

const (
	// Hruska is the triprotic acid of Hruska and others 2003: one density of sites and three
	// dissociation constants for all surface waters.
	Hruska OrganicModel = iota
	// Oliver is the acid of Oliver, Thurman and Malcolm 1983, whose pK rises with pH.
	Oliver
)

var (
	organicSites = organicTab.Value("site density") // ueq/mg
	organicK1    = math.Pow(10, -organicTab.Value("pK1"))
	organicK2    = math.Pow(10, -organicTab.Value("pK2"))
	organicK3    = math.Pow(10, -organicTab.Value("pK3"))

	oliverSites               = organicTab.Value("site density Oliver")
	oliver0, oliver1, oliver2 = organicTab.Value("pK Oliver, 0"), organicTab.Value("pK Oliver, 1"), organicTab.Value("pK Oliver, 2")
	titrationEnd              = organicTab.Value("end point")
	organicChargeAtEnd, _     = hruska(math.Pow(10, -titrationEnd))
)

// OrganicCharge is the negative charge of doc mg C/L of natural organic acid at a pH.
func OrganicCharge(m OrganicModel, doc quantity.MgPerL, ph quantity.PH) Equivalents {
	q, _ := organicCharge(m, math.Pow(10, -float64(ph)))
	return Equivalents(float64(doc) * q)
}

// endPointCharge is what a titration to pH 4.5 no longer finds (Hruska's model).
func endPointCharge(doc quantity.MgPerL) Equivalents {
	return Equivalents(float64(doc) * organicChargeAtEnd)
}

// organicCharge gives the charge in meq per mg of carbon at h = 10^-pH, and its slope with ln h.
func organicCharge(m OrganicModel, h float64) (q, slope float64) {
	if m == Oliver {
		return oliver(h)
	}
	return hruska(h)
}

func hruska(h float64) (q, slope float64) {
	a := h * h * h
	b := organicK1 * h * h
	c := organicK1 * organicK2 * h
	d := organicK1 * organicK2 * organicK3
	sum := 1 / (a + b + c + d)
	z := (b + 2*c + 3*d) * sum
	zz := (b + 4*c + 9*d) * sum
	per := organicSites / 3 * 1e-3
	return per * z, -per * (zz - z*z)
}

func oliver(h float64) (q, slope float64) {
	ph := -math.Log10(h)
	pk := oliver0 + oliver1*ph + oliver2*ph*ph
	f := 1 / (1 + math.Pow(10, pk-ph))
	per := oliverSites * 1e-3
	// d(pk - ph)/d ph = oliver1 - 1 + 2 oliver2 ph, and d ph/d ln h = -1/ln 10
	return per * f, per * f * (1 - f) * (oliver1 - 1 + 2*oliver2*ph)
}
