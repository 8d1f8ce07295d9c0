package water

import (
	_ "embed"
	"math"
	"slices"
	"strings"

	"halfwater/cite"
)

//go:embed equilibria.txt
var equilibriaText string

//go:embed activity.txt
var activityText string

//go:embed organic.txt
var organicText string

//go:embed conductivity.txt
var conductivityText string

var (
	equilibria   = cite.MustParse(equilibriaText)
	activityTab  = cite.MustParse(activityText)
	organicTab   = cite.MustParse(organicText)
	conductivity = cite.MustParse(conductivityText)
)

// Constants are all the numbers of this package that could be disputed, with unit, span and work.
func Constants() []cite.Constant {
	return slices.Concat(equilibria.List, activityTab.List, organicTab.List, conductivity.List, priors.List, saltTab.List, rateTab.List, limits.List)
}

const (
	gasConstant = 1.98720425864e-3 // kcal/(mol K), from R = 8.31446261815324 J/(mol K) (exact, SI 2019) and 4.184 J/cal
	kelvin25    = 298.15
)

// form is log10 K as a function of temperature: the two forms of equilibria.txt in one.
type form struct{ a, b, c, d, e float64 }

// at is log10 K at T kelvin, I = 0.
func (f form) at(T float64) float64 { return f.a + f.b*T + f.c/T + f.d*math.Log10(T) + f.e/(T*T) }

// forms are the forms of equilibria.txt by name. Van't Hoff's is the general one with
// c = -dH/(R ln 10) and a = log10 K(25 C) - c/298.15.
var forms = func() map[string]form {
	out := map[string]form{}
	for _, c := range equilibria.List {
		name, part, ok := strings.Cut(c.Name, ", ")
		if !ok {
			panic("water: constant without a part: " + c.Name)
		}
		f := out[name]
		switch part {
		case "a", "25":
			f.a += c.Value
		case "b":
			f.b = c.Value
		case "c":
			f.c = c.Value
		case "d":
			f.d = c.Value
		case "e":
			f.e = c.Value
		case "dH":
			f.c = -c.Value / (gasConstant * math.Ln10)
			f.a -= f.c / kelvin25
		default:
			panic("water: unknown part in " + c.Name)
		}
		out[name] = f
	}
	return out
}()

// logK is the decimal logarithm of a constant of equilibria.txt at T kelvin, I = 0.
func logK(name string, T float64) float64 {
	f, ok := forms[name]
	if !ok {
		panic("water: no constant " + name)
	}
	return f.at(T)
}

// debyeHuckel gives A, (kg/mol)^0.5, and B, (kg/mol)^0.5/Angstrom, at T kelvin.
func debyeHuckel(T float64) (A, B float64) {
	v := activityTab.Value
	t := T - 273.15
	eps := v("eps, 0") + v("eps, 1")*T + v("eps, 2")*math.Log(T) + v("eps, 3")/T
	rho := 1 - (t-v("rho, 0"))*(t-v("rho, 0"))*(t+v("rho, 1"))/(v("rho, 2")*(t+v("rho, 3")))
	A = v("A0") * math.Sqrt(rho) * math.Pow(eps*T, -1.5)
	B = v("B0") * math.Sqrt(rho) * math.Pow(eps*T, -0.5)
	return A, B
}
