package quantity

// Celsius is a temperature. Unit: degree Celsius.
type Celsius float64

// Fahrenheit gives a temperature from degrees Fahrenheit.
func Fahrenheit(f float64) Celsius { return Celsius((f - 32) / 1.8) }

// Fahrenheit reads a temperature in degrees Fahrenheit.
func (c Celsius) Fahrenheit() float64 { return float64(c)*1.8 + 32 }

// Kelvin reads a temperature in kelvin (T = t + 273.15).
func (c Celsius) Kelvin() float64 { return float64(c) + 273.15 }

// Sub is the difference of two temperatures.
func (c Celsius) Sub(d Celsius) CelsiusDiff { return CelsiusDiff(c - d) }

// Add is a temperature moved by a difference.
func (c Celsius) Add(d CelsiusDiff) Celsius { return c + Celsius(d) }

// CelsiusDiff is a difference of temperatures, never a temperature. Unit: K.
type CelsiusDiff float64
