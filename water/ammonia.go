package water

import (
	"math"

	"halfwater/quantity"
)

// FreeAmmonia is the un-ionised part of a total ammonia at a pH and temperature, after Emerson
// and others 1975: pKa = 0.09018 + 2729.92/T, 0 to 30 C, pH 6 to 10, fresh water. It leaves out
// the activity of NH4+, which lowers it by 3 to 8 % in hard water; [Speciation.FreeAmmonia] does
// not.
func FreeAmmonia(tan quantity.TotalAmmonia, ph quantity.PH, t quantity.Celsius) quantity.FreeAmmonia {
	return quantity.FreeAmmonia(float64(tan) * FreeShare(ph, t))
}

// FreeShare is the share of the total ammonia that is un-ionised (Emerson and others 1975).
func FreeShare(ph quantity.PH, t quantity.Celsius) float64 {
	pKa := -emerson.at(t.Kelvin())
	return 1 / (1 + math.Pow(10, pKa-float64(ph)))
}

var emerson = forms["NH4 Emerson"]

// ChronicAmmonia is the criterion continuous concentration of EPA 2013 for fresh water: the 30-day
// mean of total ammonia that should not be exceeded. Valid for pH 6.5 to 9 and 0 to 30 C; outside
// it is an extrapolation. It protects unionid mussels and so snails and shrimps.
func ChronicAmmonia(ph quantity.PH, t quantity.Celsius) quantity.TotalAmmonia {
	p := float64(ph)
	return quantity.TotalAmmonia(0.8876 * (0.0278/(1+math.Pow(10, 7.688-p)) + 1.1994/(1+math.Pow(10, p-7.688))) *
		2.126 * math.Pow(10, 0.028*(20-max(float64(t), 7))))
}

// AcuteAmmonia is the criterion maximum concentration of EPA 2013 for fresh water (one-hour mean
// of total ammonia), with or without fish of the salmon family. Valid for pH 6.5 to 9, 0 to 30 C.
func AcuteAmmonia(ph quantity.PH, t quantity.Celsius, salmonids bool) quantity.TotalAmmonia {
	p := float64(ph)
	bracket := 0.7249 * (0.0114/(1+math.Pow(10, 7.204-p)) + 1.6181/(1+math.Pow(10, p-7.204)))
	warm := 23.12 * math.Pow(10, 0.036*(20-float64(t)))
	if salmonids {
		cold := 0.275/(1+math.Pow(10, 7.204-p)) + 39.0/(1+math.Pow(10, p-7.204))
		return quantity.TotalAmmonia(min(cold, bracket*warm))
	}
	return quantity.TotalAmmonia(bracket * min(51.93, warm))
}
