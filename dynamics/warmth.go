package dynamics

import (
	"math"

	"halfwater/cite"
	"halfwater/quantity"
	"halfwater/water"
)

// warmth is everything that depends on temperature alone.
type warmth struct {
	ammonia, nitrite, decay, mulm, exchange float64 // factors, 1 at 20 C

	hydration      float64 // KH K1, mol/kg per atm times activity of H+
	second         float64 // K2
	kw             float64
	calcium2       float64 // CaHCO3+
	calcium3       float64 // CaCO3
	magnes2        float64 // MgHCO3+
	magnes3        float64 // MgCO3
	calciumSO4     float64 // CaSO4
	magnesSO4      float64 // MgSO4
	kh             float64 // CO2(g) = CO2(aq), mol/kg/atm
	aragonite      float64 // solubility product
	ammonium       float64 // Ka of NH4+ (Emerson)
	davies         float64 // A ln 10
	saturation     float64 // oxygen at 1 atm, mg/L
	saturationPres float64 // its change for 1 atm more, mg/L/atm
}

const (
	coldest  = -1.0
	warmest  = 45.0
	perKelvi = 8 // table steps
)

// warmthTable holds the exact values every 1/8 K; between them they go straight, good to 2e-5.
var warmthTable = func() []warmth {
	n := int((warmest-coldest)*perKelvi) + 2
	out := make([]warmth, n)
	for i := range out {
		out[i] = warmthAt(coldest + float64(i)/perKelvi)
	}
	return out
}()

func warmthAt(t float64) warmth {
	T := quantity.Celsius(t).Kelvin()
	k := func(name string) float64 { return math.Pow(10, logK(name, T)) }
	d := t - 20
	return warmth{
		ammonia:  math.Pow(table.Value("theta ammonia"), d),
		nitrite:  math.Pow(table.Value("theta nitrite"), d),
		decay:    math.Pow(table.Value("theta decay"), d),
		mulm:     math.Pow(table.Value("theta mulm"), d),
		exchange: water.Still.KL(quantity.Celsius(t)) / water.Still.KL(20),

		hydration: k("KH") * k("K1"), second: k("K2"), kw: k("Kw"),
		calcium2: k("CaHCO3"), calcium3: k("CaCO3"), magnes2: k("MgHCO3"), magnes3: k("MgCO3"),
		calciumSO4: vantHoff("CaSO4", T), magnesSO4: vantHoff("MgSO4", T),
		kh: k("KH"), aragonite: k("aragonite"),
		ammonium: math.Pow(10, -7) * share(float64(water.FreeShare(7, quantity.Celsius(t)))),
		davies:   math.Ln10 * (0.4911 + 5.9e-4*t + 5.6e-6*t*t), // A of Truesdell and Jones 1974 within 0.0002, 0-35 C

		saturation:     float64(water.OxygenSaturation(quantity.Celsius(t), 1)),
		saturationPres: float64(water.OxygenSaturation(quantity.Celsius(t), 1.05)-water.OxygenSaturation(quantity.Celsius(t), 0.95)) / 0.1,
	}
}

func share(f float64) float64 { return f / (1 - f) }

// warmthOf is the warmth at a temperature, kept inside -1 to 45 C.
func warmthOf(t float64) warmth {
	x := (min(max(t, coldest), warmest) - coldest) * perKelvi
	if !(x >= 0) {
		x = 0 // no number at all
	}
	i := int(x)
	f := x - float64(i)
	a, b := &warmthTable[i], &warmthTable[i+1]
	if f == 0 {
		return *a
	}
	mix := func(p, q float64) float64 { return p + f*(q-p) }
	return warmth{
		mix(a.ammonia, b.ammonia), mix(a.nitrite, b.nitrite), mix(a.decay, b.decay), mix(a.mulm, b.mulm), mix(a.exchange, b.exchange),
		mix(a.hydration, b.hydration), mix(a.second, b.second), mix(a.kw, b.kw),
		mix(a.calcium2, b.calcium2), mix(a.calcium3, b.calcium3), mix(a.magnes2, b.magnes2), mix(a.magnes3, b.magnes3),
		mix(a.calciumSO4, b.calciumSO4), mix(a.magnesSO4, b.magnesSO4), mix(a.kh, b.kh), mix(a.aragonite, b.aragonite),
		mix(a.ammonium, b.ammonium), mix(a.davies, b.davies), mix(a.saturation, b.saturation), mix(a.saturationPres, b.saturationPres),
	}
}

// The equilibrium constants are those of package water, read from the list that it publishes.
var waterConstants = func() map[string]cite.Constant {
	out := map[string]cite.Constant{}
	for _, c := range water.Constants() {
		if _, there := out[c.Name]; !there { // equilibria come first; ion sizes share some names
			out[c.Name] = c
		}
	}
	return out
}()

// logK is a + b T + c/T + d log10 T + e/T^2.
func logK(name string, T float64) float64 {
	v := func(part string) float64 { return waterConstants[name+", "+part].Value }
	return v("a") + v("b")*T + v("c")/T + v("d")*math.Log10(T) + v("e")/(T*T)
}

// vantHoff is K by its value at 25 C and its heat, kcal/mol.
func vantHoff(name string, T float64) float64 {
	const gas = 1.98720425864e-3 // kcal/(mol K)
	v := func(part string) float64 { return waterConstants[name+", "+part].Value }
	return math.Pow(10, v("25")-v("dH")/(gas*math.Ln10)*(1/T-1/298.15))
}
