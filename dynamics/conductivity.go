package dynamics

import (
	"math"

	"halfwater/quantity"
)

// EC is conductivity at 25 C after McCleskey and others 2012 on the ions of the state, with the acid side
// of this package: within 3 % of package water's (mostly within 0.5 %), at a fraction of its cost. [State.Exact] has the
// other.
func (s *State) EC() quantity.Conductivity {
	h, c, _ := s.acid()
	inv := 1 / s.Volume
	bic := c.bic / h
	car := c.loose / (h * h)
	strength := 0.5e-3 * (4*(s.Ca+s.Mg+s.SO4)*inv + (s.Na+s.K+s.Cl)*inv + (s.TAN+s.Bound+s.NO2+s.NO3)*inv/molarN + bic + 4*car)
	root := math.Sqrt(strength)
	tied := c.car/(h*h) - car // CaCO3 and MgCO3 carry nothing
	hpo4 := c.phosphate * c.kp / (c.kp + h)
	sum := lambdaCa.at(root)*(s.Ca*inv-tied) + lambdaMg.at(root)*s.Mg*inv + lambdaNa.at(root)*s.Na*inv + lambdaK.at(root)*s.K*inv +
		lambdaNH4.at(root)*c.ammonia*h/(c.ka+h) +
		lambdaCl.at(root)*s.Cl*inv + lambdaSO4.at(root)*s.SO4*inv + lambdaNO3.at(root)*(s.NO3+s.NO2)*inv/molarN +
		lambdaHCO3.at(root)*bic + lambdaCO3.at(root)*car +
		lambdaH.at(root)*c.acid*h + lambdaOH*c.oh/h +
		lambdaHPO4*hpo4 + lambdaH2PO4*(c.phosphate-hpo4)
	return quantity.Conductivity(sum)
}

// lambda is the molar conductivity of an ion at 25 C: l0 - a sqrt I/(1 + b sqrt I).
type lambda struct{ l0, a, b float64 }

func (l lambda) at(root float64) float64 { return l.l0 - l.a*root/(1+l.b*root) }

func lambdaOf(ion string) lambda {
	at25 := func(what string) float64 {
		v := func(part string) float64 { return waterConstants[ion+" "+what+", "+part].Value }
		return (v("c2")*25+v("c1"))*25 + v("c0")
	}
	return lambda{at25("lambda0"), at25("A"), waterConstants[ion+" B"].Value}
}

var (
	lambdaCa, lambdaMg, lambdaNa, lambdaK, lambdaNH4      = lambdaOf("Ca"), lambdaOf("Mg"), lambdaOf("Na"), lambdaOf("K"), lambdaOf("NH4")
	lambdaCl, lambdaSO4, lambdaNO3, lambdaHCO3, lambdaCO3 = lambdaOf("Cl"), lambdaOf("SO4"), lambdaOf("NO3"), lambdaOf("HCO3"), lambdaOf("CO3")
	lambdaH                                               = lambdaOf("H")
	lambdaOH, lambdaHPO4, lambdaH2PO4                     = waterConstants["OH lambda"].Value, waterConstants["HPO4 lambda"].Value, waterConstants["H2PO4 lambda"].Value
)
