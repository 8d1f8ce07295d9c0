package report

import (
	"slices"
	"strconv"
	"time"

	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/kit"
	"halfwater/quantity"
)

// Pad is a kit as it is read: what is printed on it, and between its steps the gaps. The pad is the
// interval. It says nothing of what was read last or of what is expected.
type Pad struct {
	Kit      string
	Of       string // "Nitrate"
	Question string
	Facts    string
	Rungs    []string // printed steps, lowest first
	Gaps     []Choice // between one rung and the next
	Drops    []string
	Over     Choice // "more than 80"; empty for a meter
	Typed    bool   // a number is typed: a meter
	Unit     string // behind a typed number
	Light    bool   // a colour: by which light
	Place    bool   // of the air: where
}

// Choice is what a button says and the value that it gives.
type Choice struct{ Say, Value string }

// dropsShown is how many drops have a button; a larger count is typed.
const dropsShown = 12

// PadOf lays out one kit on a day.
func PadOf(k kit.Kit, now time.Time) Pad {
	p := Pad{Kit: k.Name, Of: name(k.Of), Facts: padFacts(k, now)}
	switch k.Form {
	case kit.Card, kit.Strip:
		p.Light = true
		for i, s := range k.Steps {
			p.Rungs = append(p.Rungs, plain64(s))
			if i > 0 {
				between := "between " + plain64(k.Steps[i-1]) + " and " + plain64(s)
				p.Gaps = append(p.Gaps, Choice{between, between})
			}
		}
		if n := len(k.Steps); n > 0 {
			p.Over = moreThan(plain64(k.Steps[n-1]))
		}
		p.Question = say.Sentence("pad.card", p)
	case kit.Drops:
		for i := 1; i <= dropsShown; i++ {
			p.Drops = append(p.Drops, strconv.Itoa(i))
		}
		p.Typed, p.Unit = true, "drops"
		p.Question = say.Sentence("pad.drops", p)
	default:
		p.Typed, p.Unit = true, unitWord(k)
		p.Question = say.Sentence("pad.meter", p)
		switch k.Of {
		case quantity.OfAirTemp, quantity.OfBaskingTemp, quantity.OfHumidity, quantity.OfUVI:
			p.Place = true
		}
	}
	return p
}

func moreThan(x string) Choice { return Choice{"more than " + x, "> " + x} }

func unitWord(k kit.Kit) string {
	switch k.Unit {
	case "Cel", "C":
		return "°C"
	case "degF", "F":
		return "°F"
	case "pH", "1", "UVI":
		return ""
	case "uS/cm":
		return "µS/cm"
	}
	if k.Basis != quantity.NoBasis && k.Basis != quantity.NotStated {
		return k.Unit + " " + string(k.Basis)
	}
	return k.Unit
}

// padFacts say which lot it is and how old; what makes its reading coarser is said.
func padFacts(k kit.Kit, now time.Time) string {
	f := struct {
		Kit, Unit, Lot string
		Drop           string
		Calibrated     string
		Never, Late    bool
	}{Kit: k.Name, Unit: unitWord(k), Lot: k.Lot}
	switch k.Form {
	case kit.Drops:
		f.Drop = look.Number(k.PerDrop, 0)
	case kit.Meter:
		if k.Of == quantity.OfPH || k.Of == quantity.OfEC || k.Of == quantity.OfTDS {
			f.Never = k.Calibrated.IsZero()
			if !f.Never {
				f.Calibrated = say.ShortDay(k.Calibrated, now)
			}
		}
	}
	f.Late = !k.UseBy.IsZero() && now.After(k.UseBy)
	return say.Sentence("pad.facts", f)
}

func plain64(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// Has reports whether a value is that of one of the pad's buttons.
func (p Pad) Has(value string) bool {
	for _, g := range append(p.Gaps, p.Over) {
		if g.Value == value {
			return true
		}
	}
	return slices.Contains(p.Rungs, value) || slices.Contains(p.Drops, value)
}
