package quantity

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Measurand names what a reading is of.
type Measurand string

// The measurands of water, air and light. Each has one canonical unit (in brackets), which is
// that of its type in this package.
const (
	OfGH          Measurand = "gh"           // [dGH] Hardness
	OfKH          Measurand = "kh"           // [dKH] Alkalinity
	OfPH          Measurand = "ph"           // [pH] PH
	OfEC          Measurand = "ec"           // [uS/cm at 25 C] Conductivity
	OfTAN         Measurand = "tan"          // [mg N/L] TotalAmmonia
	OfNO2         Measurand = "no2"          // [mg N/L] Nitrite
	OfNO3         Measurand = "no3"          // [mg N/L] Nitrate
	OfPO4         Measurand = "po4"          // [mg P/L] Phosphate
	OfOxygen      Measurand = "oxygen"       // [mg/L] MgPerL
	OfChlorine    Measurand = "chlorine"     // [mg Cl2/L] total chlorine, chloramine included
	OfChloride    Measurand = "chloride"     // [mg/L]
	OfCopper      Measurand = "copper"       // [mg/L]
	OfTDS         Measurand = "tds"          // [mg/L as shown by a pen: conductivity by a factor]
	OfWaterTemp   Measurand = "water temp"   // [C] Celsius
	OfAirTemp     Measurand = "air temp"     // [C] Celsius
	OfBaskingTemp Measurand = "basking temp" // [C] Celsius, surface
	OfHumidity    Measurand = "humidity"     // [%]
	OfUVI         Measurand = "uv index"     // [1]
	OfLevel       Measurand = "level"        // [mm on the staff] Millimetres
)

// unit is a way in which a measurand may be written: to canonical = a*x + b.
type unit struct {
	name string
	a, b float64
}

type measure struct {
	label     string
	units     []unit // the first is canonical
	lo, hi    float64
	needBasis []Basis // for mass concentrations: the bases that may be stated
}

var (
	mgL     = []unit{{"mg/L", 1, 0}, {"ppm", 1, 0}, {"ug/L", 1e-3, 0}, {"µg/L", 1e-3, 0}}
	celsius = []unit{{"Cel", 1, 0}, {"C", 1, 0}, {"degF", 1 / 1.8, -32 / 1.8}, {"F", 1 / 1.8, -32 / 1.8}, {"°C", 1, 0}, {"°F", 1 / 1.8, -32 / 1.8}}
)

// Spans (lo, hi) are what can be in an enclosure or its source waters at all, not what is good:
// a number outside is a slip of the pen. Judgement, no source; pH 0-14 by common practice.
var measures = map[Measurand]measure{
	OfGH: {"GH", []unit{
		{"dGH", 1, 0},
		{"dH", 1, 0},
		{"mmol/L", 1 / mmolPerDegree, 0},
		{"mg/L CaCO3", 1 / caCO3PerDegree, 0},
		{"ppm CaCO3", 1 / caCO3PerDegree, 0},
		{"fH", 10 / caCO3PerDegree, 0},
	}, 0, 200, nil},
	OfKH: {"KH", []unit{
		{"dKH", 1, 0},
		{"dH", 1, 0},
		{"meq/L", 1 / meqPerDegree, 0},
		{"mmol/L", 1 / meqPerDegree, 0},
		{"mg/L CaCO3", 1 / caCO3PerDegree, 0},
		{"ppm CaCO3", 1 / caCO3PerDegree, 0},
		{"fH", 10 / caCO3PerDegree, 0},
	}, 0, 100, nil},
	OfPH:          {"pH", []unit{{"pH", 1, 0}}, 2, 12, nil},
	OfEC:          {"EC", []unit{{"uS/cm", 1, 0}, {"mS/cm", 1000, 0}, {"µS/cm", 1, 0}}, 0, 60000, nil},
	OfTAN:         {"total ammonia", mgL, 0, 100, []Basis{AsN, AsNH4, AsNH3}},
	OfNO2:         {"nitrite", mgL, 0, 100, []Basis{AsN, AsNO2}},
	OfNO3:         {"nitrate", mgL, 0, 500, []Basis{AsN, AsNO3}},
	OfPO4:         {"phosphate", mgL, 0, 100, []Basis{AsP, AsPO4}},
	OfOxygen:      {"oxygen", mgL, 0, 30, nil},
	OfChlorine:    {"chlorine", mgL, 0, 10, nil},
	OfChloride:    {"chloride", mgL, 0, 20000, nil},
	OfCopper:      {"copper", mgL, 0, 50, nil},
	OfTDS:         {"TDS", mgL, 0, 60000, nil},
	OfWaterTemp:   {"water temperature", celsius, -1, 45, nil},
	OfAirTemp:     {"air temperature", celsius, -20, 70, nil},
	OfBaskingTemp: {"basking surface", celsius, -20, 90, nil},
	OfHumidity:    {"humidity", []unit{{"%", 1, 0}}, 0, 100, nil},
	OfUVI:         {"UV index", []unit{{"1", 1, 0}, {"UVI", 1, 0}}, 0, 30, nil},
	OfLevel:       {"level", []unit{{"mm", 1, 0}, {"cm", 10, 0}, {"in", 25.4, 0}}, 0, 3000, nil},
}

// Known reports whether m is one of the measurands of this package.
func (m Measurand) Known() bool { _, ok := measures[m]; return ok }

// Label is the trade's word for m, for a table or a form.
func (m Measurand) Label() string { return measures[m].label }

// Unit is the name of the canonical unit of m.
func (m Measurand) Unit() string {
	if u := measures[m].units; len(u) > 0 {
		return u[0].name
	}
	return ""
}

// Units are all the units in which m may be written, the canonical one first.
func (m Measurand) Units() []string {
	var out []string
	for _, u := range measures[m].units {
		out = append(out, u.name)
	}
	return out
}

// Bases are the bases of which one must be stated with m; none when m needs no basis.
func (m Measurand) Bases() []Basis { return measures[m].needBasis }

// spoken are the units that people write otherwise than machines do; a pure number and pH have none.
var spoken = map[string]string{
	"Cel": "°C", "C": "°C", "degF": "°F", "F": "°F", "uS/cm": "µS/cm", "ug/L": "µg/L", "1": "", "pH": "",
}

// UnitWords are [Measurand.Units] as people write them, each once: "°C", not "Cel".
func (m Measurand) UnitWords() []string {
	var out []string
	for _, u := range m.Units() {
		if w := spoken[u]; w != "" {
			u = w
		}
		if !slices.Contains(out, u) {
			out = append(out, u)
		}
	}
	return out
}

// withUnit is a number with its unit as people write it.
func withUnit(x float64, unit string) string {
	if w, ok := spoken[unit]; ok {
		unit = w
	}
	return strings.TrimSpace(strconv.FormatFloat(x, 'g', -1, 64) + " " + unit)
}

// Span is the range of canonical values that can occur at all.
func (m Measurand) Span() Range[float64] { return Range[float64]{measures[m].lo, measures[m].hi} }

// Canonical turns a number in a unit, on a basis, into the canonical unit of m. It refuses an
// unknown measurand or unit, a missing or wrong basis and a value outside [Measurand.Span], each
// with a typed error: [UnknownMeasurand], [UnknownUnit], [BasisMissing], [OutOfSpan].
func (m Measurand) Canonical(x float64, unitName string, basis Basis) (float64, error) {
	d, ok := measures[m]
	if !ok {
		return 0, UnknownMeasurand{string(m)}
	}
	if unitName == "" {
		return 0, UnknownUnit{m, unitName}
	}
	var y float64
	found := false
	for _, u := range d.units {
		if u.name == unitName {
			y, found = u.a*x+u.b, true
			break
		}
	}
	if !found {
		return 0, UnknownUnit{m, unitName}
	}
	if len(d.needBasis) > 0 {
		f := 0.0
		for _, b := range d.needBasis {
			if b == basis {
				f, _ = b.perElement()
			}
		}
		if f == 0 {
			return 0, BasisMissing{m, basis}
		}
		y *= f
	}
	if math.IsNaN(y) || y < d.lo || y > d.hi {
		return 0, OutOfSpan{m, x, unitName}
	}
	return y, nil
}

// Stands gives the canonical values that a number may stand for: the one of [Measurand.Canonical], or with
// a basis of [NotStated] all from the least to the greatest that its bases make of it. A basis on which it
// cannot be is left out. Errors are those of Canonical.
func (m Measurand) Stands(x float64, unitName string, basis Basis) (Range[float64], error) {
	if basis != NotStated || len(m.Bases()) == 0 {
		y, err := m.Canonical(x, unitName, basis)
		return Range[float64]{y, y}, err
	}
	var out Range[float64]
	found := false
	var refused error
	for _, b := range m.Bases() {
		y, err := m.Canonical(x, unitName, b)
		switch {
		case err != nil:
			refused = err
		case !found:
			out, found = Range[float64]{y, y}, true
		default:
			out = Range[float64]{min(out.Lo, y), max(out.Hi, y)}
		}
	}
	if !found {
		return out, refused
	}
	return out, nil
}

// InUnit turns a canonical value of m back into a unit and basis; it is the inverse of
// [Measurand.Canonical] without its checks of span. Unknown units give NaN.
func (m Measurand) InUnit(canonical float64, unitName string, basis Basis) float64 {
	y := canonical
	if f, ok := basis.perElement(); ok && len(measures[m].needBasis) > 0 {
		y /= f
	}
	for _, u := range measures[m].units {
		if u.name == unitName {
			return (y - u.b) / u.a
		}
	}
	return math.NaN()
}

// ReadNumber reads a decimal number as people write it, with a point or a comma, but never both and
// never with a thousands mark. Anything else is [NotANumber].
func ReadNumber(text string) (float64, error) {
	t := strings.TrimSpace(text)
	if strings.Count(t, ",")+strings.Count(t, ".") > 1 {
		return 0, NotANumber{text}
	}
	t = strings.Replace(t, ",", ".", 1)
	x, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, NotANumber{text}
	}
	return x, nil
}

// NotANumber is a text that does not read as a number.
type NotANumber struct{ Text string }

// UnknownMeasurand is a name that is no measurand.
type UnknownMeasurand struct{ Name string }

// UnknownUnit is a unit in which the measurand is not written.
type UnknownUnit struct {
	Of   Measurand
	Unit string
}

// BasisMissing is a mass concentration without a basis, or with one that does not fit.
type BasisMissing struct {
	Of    Measurand
	Basis Basis
}

// OutOfSpan is a value that cannot occur in an enclosure.
type OutOfSpan struct {
	Of   Measurand
	X    float64
	Unit string
}

func (e NotANumber) Error() string       { return fmt.Sprintf("%q is not a number", e.Text) }
func (e UnknownMeasurand) Error() string { return fmt.Sprintf("unknown measurand %q", e.Name) }
func (e UnknownUnit) Error() string {
	return fmt.Sprintf("%s in unit %q: use one of %s", e.Of.Label(), e.Unit, strings.Join(e.Of.UnitWords(), ", "))
}

func (e BasisMissing) Error() string {
	return fmt.Sprintf("%s needs a basis, one of %v", e.Of.Label(), e.Of.Bases())
}

func (e OutOfSpan) Error() string {
	s := e.Of.Span()
	return fmt.Sprintf("%s %s cannot be: it lies outside %g to %s", e.Of.Label(), withUnit(e.X, e.Unit), s.Lo, withUnit(s.Hi, e.Of.Unit()))
}
