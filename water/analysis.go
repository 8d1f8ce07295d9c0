package water

import (
	"fmt"
	"math"
	"strings"

	"halfwater/quantity"
)

// SourceKind says where a water comes from, as far as it bears on what it can hold.
type SourceKind string

// The kinds of source water. The empty kind is "not known".
const (
	UnknownSource SourceKind = ""
	Mains         SourceKind = "mains"
	Well          SourceKind = "well"
	RO            SourceKind = "ro"       // reverse osmosis, distilled, deionised
	Rain          SourceKind = "rain"     // collected
	Softened      SourceKind = "softened" // by ion exchange: calcium replaced by sodium
)

// Analysis is what is known of a source water: a full report, or GH and KH and little else.
// Every field may be unknown. Nitrogen and phosphorus are as the element, as everywhere.
type Analysis struct {
	Kind        SourceKind
	Temperature Known[quantity.Celsius] // at which the pH was read; 20 C when not known

	GH Known[quantity.Hardness]
	KH Known[quantity.Alkalinity] // titrated; bicarbonate in mg/L over 21.76 is KH in dKH
	EC Known[quantity.Conductivity]
	PH Known[quantity.PH]

	Ca, Mg, Na, K, Cl, SO4 Known[quantity.MgPerL]
	NO3                    Known[quantity.Nitrate]
	NO2                    Known[quantity.Nitrite]
	TAN                    Known[quantity.TotalAmmonia]
	PO4                    Known[quantity.Phosphate]
	DOC                    Known[quantity.MgPerL]

	FreeChlorine, Chloramine Known[quantity.MgPerL] // mg Cl2/L
}

// CannotKnow is a quantity that the analysis leaves open and no honest rule closes.
type CannotKnow struct {
	What string   // "GH"
	From []string // what was stated
	Why  Reason
	Need string // what would decide it
}

// Reason says why a quantity cannot be known.
type Reason string

// The reasons.
const (
	// ConductivityCountsEverything: the same EC fits soft water with sodium and hard water.
	ConductivityCountsEverything Reason = "conductivity counts every ion, hardness only calcium and magnesium; softened water has the one without the other"
	// NothingStated: neither hardness, alkalinity nor conductivity are stated.
	NothingStated Reason = "nothing is stated that hardness, alkalinity or salts could be taken from"
	// SodiumForCalcium: the water went through a softener.
	SodiumForCalcium Reason = "a softener has put sodium in place of calcium and magnesium, how completely only a test says"
)

func (e CannotKnow) Error() string {
	from := "nothing"
	if len(e.From) > 0 {
		from = strings.Join(e.From, ", ")
	}
	return fmt.Sprintf("%s cannot be known from %s: %s; %s", e.What, from, e.Why, e.Need)
}

// Unbalanced is an analysis whose charges do not agree by more than 5 %.
type Unbalanced struct {
	Cations, Anions Equivalents // meq/L, alkalinity among the anions
	Share           quantity.Share
	Suspect         Suspect
}

// Suspect is the ion whose number most likely is wrong, and the slip that would explain it.
type Suspect struct {
	Ion  string
	Slip string // "" when no common slip explains it
}

func (e Unbalanced) Error() string {
	more := "cations"
	if e.Share < 0 {
		more = "anions"
	}
	s := fmt.Sprintf("the charges do not agree: cations %.3g, anions %.3g meq/L, %.0f %% of their sum too many %s", e.Cations, e.Anions, 100*math.Abs(float64(e.Share)), more)
	if e.Suspect.Ion != "" {
		s += "; look at " + e.Suspect.Ion
	}
	if e.Suspect.Slip != "" {
		s += " (" + e.Suspect.Slip + ")"
	}
	return s
}

// Disagrees is an EC that the other numbers rule out.
type Disagrees struct {
	Stated quantity.Conductivity
	Least  quantity.Conductivity // what hardness, alkalinity and the ions stated make at least
}

func (e Disagrees) Error() string {
	return fmt.Sprintf("EC %.0f µS/cm is less than the %.0f that the hardness, alkalinity and ions stated make at least; measure EC, GH and KH again", e.Stated, e.Least)
}

// stated lists what is known, for a message.
func (a *Analysis) stated() []string {
	var out []string
	add := func(name string, is bool) {
		if is {
			out = append(out, name)
		}
	}
	add("GH", a.GH.Is)
	add("KH", a.KH.Is)
	add("EC", a.EC.Is)
	add("pH", a.PH.Is)
	add("Ca", a.Ca.Is)
	add("Mg", a.Mg.Is)
	add("Na", a.Na.Is)
	add("K", a.K.Is)
	add("Cl", a.Cl.Is)
	add("SO4", a.SO4.Is)
	add("NO3", a.NO3.Is)
	return out
}

// check refuses numbers that cannot be.
func (a *Analysis) check() error {
	for _, f := range [...]struct {
		name   string
		is     bool
		x      float64
		lo, hi float64
		unit   string
	}{
		{"temperature", a.Temperature.Is, float64(a.Temperature.Value), lowestCelsius, highestCelsius, "°C"},
		{"GH", a.GH.Is, float64(a.GH.Value), 0, 200, "dGH"},
		{"KH", a.KH.Is, float64(a.KH.Value), 0, 100, "dKH"},
		{"EC", a.EC.Is, float64(a.EC.Value), 0, 60000, "µS/cm"},
		{"pH", a.PH.Is, float64(a.PH.Value), 2, 12, ""},
		{"Ca", a.Ca.Is, float64(a.Ca.Value), 0, 5000, "mg/L"},
		{"Mg", a.Mg.Is, float64(a.Mg.Value), 0, 5000, "mg/L"},
		{"Na", a.Na.Is, float64(a.Na.Value), 0, 20000, "mg/L"},
		{"K", a.K.Is, float64(a.K.Value), 0, 5000, "mg/L"},
		{"Cl", a.Cl.Is, float64(a.Cl.Value), 0, 30000, "mg/L"},
		{"SO4", a.SO4.Is, float64(a.SO4.Value), 0, 5000, "mg/L"},
		{"NO3", a.NO3.Is, float64(a.NO3.Value), 0, 500, "mg N/L"},
		{"NO2", a.NO2.Is, float64(a.NO2.Value), 0, 100, "mg N/L"},
		{"TAN", a.TAN.Is, float64(a.TAN.Value), 0, 100, "mg N/L"},
		{"PO4", a.PO4.Is, float64(a.PO4.Value), 0, 100, "mg P/L"},
		{"DOC", a.DOC.Is, float64(a.DOC.Value), 0, highestDOC, "mg/L"},
		{"free chlorine", a.FreeChlorine.Is, float64(a.FreeChlorine.Value), 0, 10, "mg Cl2/L"},
		{"chloramine", a.Chloramine.Is, float64(a.Chloramine.Value), 0, 10, "mg Cl2/L"},
	} {
		if f.is && !(f.x >= f.lo && f.x <= f.hi) {
			return OutOfSpan{f.name, f.x, f.lo, f.hi, f.unit}
		}
	}
	return nil
}
