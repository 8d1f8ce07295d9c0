package plan

import (
	"errors"
	"math"
	"slices"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

// SourceFault is why the analysis of a source water cannot be made whole.
type SourceFault struct {
	Code string // "plan.analysis-unbalanced", ...
	// Off is the excess charge over the sum of charges, without its sign; of an unbalanced one.
	Off  quantity.Share
	Ion  string // most likely wrong; "" when none is suspect
	Slip string // the slip that would explain it; "" when no common one does
}

// faultOf names the reason.
func faultOf(err error) SourceFault {
	var u water.Unbalanced
	var d water.Disagrees
	var c water.CannotKnow
	switch {
	case errors.As(err, &u):
		return SourceFault{Code: "plan.analysis-unbalanced", Off: quantity.Share(math.Abs(float64(u.Share))), Ion: u.Suspect.Ion, Slip: u.Suspect.Slip}
	case errors.As(err, &d):
		return SourceFault{Code: "plan.analysis-ec"}
	case errors.As(err, &c):
		return SourceFault{Code: "plan.analysis-open"}
	}
	return SourceFault{Code: "plan.analysis-impossible"}
}

// faulty is a source water with a fault; used when its part that bears the pour could be.
type faulty struct {
	fact  enclosure.SourceWater
	fault SourceFault
	used  bool
}

// partial is what bears the pour of an analysis whose ions do not balance: GH, KH, EC, pH and
// nitrogen, the hardness from calcium and magnesium when it was not stated.
func partial(a water.Analysis) (water.Analysis, bool) {
	if !a.GH.Is && a.Ca.Is && a.Mg.Is {
		a.GH = water.Stated(quantity.HardnessMmol(float64(a.Ca.Value)/molarCa + float64(a.Mg.Value)/molarMg))
	}
	none := water.Known[quantity.MgPerL]{}
	a.Ca, a.Mg, a.Na, a.K, a.Cl, a.SO4 = none, none, none, none, none, none
	return a, a.GH.Is && a.KH.Is
}

const (
	molarCa = 40.078 // g/mol, iupac2021
	molarMg = 24.305 // g/mol, iupac2021
)

// wider is a range around what was found, wider by a share for numbers that contradict each other.
func wider(x float64, off quantity.Share) quantity.Range[float64] {
	by := seasonDoubt + float64(off)
	return quantity.Range[float64]{Lo: x * (1 - by), Hi: x * (1 + by)}
}

// missed is a water without which no pour is planned: it cannot be used, and the routine has been
// pouring it, or it alone brings KH. What is left would be another water altogether.
func (v *visit) missed() (faulty, bool) {
	for _, f := range v.faulty {
		if !f.used && (v.poursOf(f.fact.Name) || v.alkaline(f.fact)) {
			return f, true
		}
	}
	return faulty{}, false
}

// poursOf reports whether one of the last changes poured a water.
func (v *visit) poursOf(source string) bool {
	n := 0
	for i := len(v.Lines) - 1; i >= 0 && n < lastChanges; i-- {
		c, ok := v.Lines[i].Body.(book.Change)
		if !ok || !v.mine(v.Lines[i]) || len(c.In) == 0 {
			continue
		}
		n++
		if slices.ContainsFunc(c.In, func(p book.Poured) bool { return p.Source == source }) {
			return true
		}
	}
	return false
}

// alkaline reports whether a water is the only one that brings KH.
func (v *visit) alkaline(f enclosure.SourceWater) bool {
	a, least := f.Analysis, quantity.Alkalinity(slackOf[quantity.OfKH])
	if a.Kind == water.RO || a.Kind == water.Rain || f.MadeBy != "" || a.KH.Is && a.KH.Value <= least {
		return false
	}
	return !slices.ContainsFunc(v.sources, func(s source) bool { return s.mid.KH > least })
}

// sourceFaults names the waters whose analysis cannot be made whole.
func (v *visit) sourceFaults() []Concern {
	var out []Concern
	for i := range v.faulty {
		f := &v.faulty[i]
		c := Concern{Code: "plan.source-left-out", Tier: husbandry.Watch, Chance: math.NaN(), Source: f.fact.Name, Fault: &f.fault}
		if f.used {
			c.Code = "plan.source-in-part"
		}
		out = append(out, c)
	}
	return out
}
