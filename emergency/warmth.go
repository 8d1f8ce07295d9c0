package emergency

import (
	"cmp"
	"math"
	"slices"

	"halfwater/climate"
	"halfwater/husbandry"
	"halfwater/quantity"
)

// Reaches is when the water reaches a line of temperature of one kind of animal.
type Reaches struct {
	Code    string // TooCold, TooWarm
	Who     string // common name
	Line    quantity.Celsius
	Grade   string // "act", "emergency"
	Already bool
	// Within is the time until then, [Longest] for that and more; CountOn the 5 % quantile, rounded
	// down.
	Within  quantity.Band[Hours]
	CountOn Hours
}

// Codes of lines of temperature.
const (
	TooCold = "emergency.too-cold"
	TooWarm = "emergency.too-warm"
)

// Temp is the water some hours on.
type Temp struct {
	After Hours
	Water quantity.Band[quantity.Celsius]
}

// Curve is where the temperature of the water goes.
type Curve struct {
	Code  string                        // of its sentence
	Power quantity.Band[quantity.Watts] // put in
	Loss  quantity.Band[quantity.WattsPerKelvin]
	End   quantity.Band[quantity.Celsius]     // where it comes to rest
	Rate  quantity.Band[quantity.CelsiusDiff] // now, in an hour
	Temps []Temp
	Lines []Reaches // the soonest first; only those that it reaches
	// Unsure are lines of which nobody can say whether the water is past them already: its temperature
	// was never read, or too long ago. They have no hours.
	Unsure []Reaches
}

// lossPerArea is what a case loses, W/m2/K.
func lossPerArea() spread {
	u := climate.LossOf(1)
	return spread{float64(u.Lo), math.Sqrt(float64(u.Lo * u.Hi)), float64(u.Hi)}
}

// curve runs the bath of each draw with so much heat put in, in a room at a temperature.
func (n Now) curve(code string, b box, watts, room spread) Curve {
	c := Curve{Code: code}
	z := scores(n.Seed+1, 5)
	var (
		baths                  = make([]climate.Bath, draws)
		starts                 = make([]float64, draws)
		power, loss, end, rate = make([]float64, draws), make([]float64, draws), make([]float64, draws), make([]float64, draws)
		at                     = make([]float64, draws)
	)
	for i := range draws {
		litres := b.held.at(z[0][i])
		loss[i] = b.loss.at(z[1][i])
		if b.byVolume {
			loss[i] *= math.Pow(litres/1000, 2./3)
		}
		baths[i] = climate.Bath{
			Held: quantity.HeldLitres(litres), Loss: quantity.WattsPerKelvin(loss[i]), Room: quantity.Celsius(room.even(z[2][i])),
		}
		starts[i] = b.temp.even(z[3][i])
		power[i] = watts.at(z[4][i])
		end[i] = float64(baths[i].EndPoint(quantity.Watts(power[i])))
		rate[i] = float64(baths[i].Rate(quantity.Celsius(starts[i]), quantity.Watts(power[i])))
	}
	c.Power, c.Loss = bandOf[quantity.Watts](power), bandOf[quantity.WattsPerKelvin](loss)
	c.End, c.Rate = bandOf[quantity.Celsius](end), bandOf[quantity.CelsiusDiff](rate)
	for _, h := range []Hours{1, 2, 4, 8, 12, 24} {
		for i := range draws {
			at[i] = float64(baths[i].After(quantity.Celsius(starts[i]), quantity.Watts(power[i]), duration(h)))
		}
		c.Temps = append(c.Temps, Temp{h, bandOf[quantity.Celsius](at)})
	}
	for _, line := range warmthLines(b.kept) {
		if b.unsure(line) {
			c.Unsure = append(c.Unsure, line)
			continue
		}
		hours := make([]float64, draws)
		for i := range draws {
			hours[i] = reach(baths[i], starts[i], power[i], line)
		}
		line.Within = bandOf[Hours](hours)
		if line.Within.Low >= Longest {
			continue // it is not on this way
		}
		line.CountOn, line.Already = down(line.Within.Low), line.Within.Median == 0
		c.Lines = append(c.Lines, line)
	}
	slices.SortStableFunc(c.Lines, func(a, b Reaches) int {
		return cmp.Or(cmp.Compare(a.Within.Low, b.Within.Low), cmp.Compare(a.Within.Median, b.Within.Median))
	})
	return c
}

// unsure reports whether the water may be past a line already and nobody has looked.
func (b box) unsure(line Reaches) bool {
	x := float64(line.Line)
	if b.unread { // a guess never says that it is too warm
		return line.Code == TooWarm && x <= b.temp.hi || line.Code == TooCold && x >= b.temp.lo
	}
	return b.temp.lo < x && x < b.temp.hi
}

// reach is the hours until a bath passes a line, [Longest] when it does not.
func reach(b climate.Bath, start, power float64, line Reaches) float64 {
	if past := start >= float64(line.Line); past == (line.Code == TooWarm) || start == float64(line.Line) {
		return 0
	}
	d, ok := b.Until(quantity.Celsius(start), line.Line, quantity.Watts(power))
	if h := d.Hours(); ok && h >= 0 && h < float64(Longest) {
		return h
	}
	return float64(Longest)
}

// warmthLines are the act and emergency lines of temperature of every kind, each once.
func warmthLines(kept []husbandry.Kept) []Reaches {
	var out []Reaches
	for _, k := range kept {
		if !k.Species.Group.Animal() {
			continue
		}
		warm, cold, ok := husbandry.Warmth(k)
		if !ok {
			continue
		}
		for _, l := range []struct {
			code string
			line husbandry.Line
		}{{TooCold, cold}, {TooWarm, warm}} {
			if x, ok := l.line.Act.Get(); ok {
				out = append(out, Reaches{Code: l.code, Who: k.Species.Common, Line: quantity.Celsius(x), Grade: "act"})
			}
			if x, ok := l.line.Emergency.Get(); ok {
				out = append(out, Reaches{Code: l.code, Who: k.Species.Common, Line: quantity.Celsius(x), Grade: "emergency"})
			}
		}
	}
	return slices.CompactFunc(out, func(a, b Reaches) bool {
		return a.Code == b.Code && a.Who == b.Who && a.Line == b.Line
	})
}
