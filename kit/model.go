package kit

import (
	_ "embed"
	"math"
	"time"

	"halfwater/cite"
	"halfwater/quantity"
)

//go:embed errors.txt
var errorsText string

var table = cite.MustParse(errorsText)

// Constants are the numbers of this package with their works.
func Constants() []cite.Constant { return table.List }

// Model is how a kit errs, apart from the coarseness of what it shows: the shown class holds the
// truth as the kit saw it, which is the truth blurred by this model.
//
// With Log the doubt is normal with SD on ln(x + Shift): a share of the value, and near zero a floor
// of SD x Shift. Otherwise it is normal with SD on x itself. x is in the canonical unit.
type Model struct {
	Log   bool
	SD    float64
	Shift float64
	// Odd is the share of readings that say nothing (unshaken, miscounted, misread), and Classes
	// over how many shown values such a reading may fall.
	Odd     float64
	Classes int
}

// Error gives the error model of the kit at a moment. The numbers are those of errors.txt beside
// this package: common practice, plausible from classroom comparisons and not from one work. It
// expects a kit that passes [Kit.Check].
func (k Kit) Error(at time.Time) Model {
	to := canonicalOf(k.Of, k.Unit, k.Basis)
	var m Model
	switch k.Form {
	case Drops:
		m = Model{SD: table.Value("drops: sd") * k.PerDrop * to.slope, Odd: table.Value("drops: odd"), Classes: 20}
		m.SD *= 1 + k.overdue(at)*table.Value("lot: out of date drops")
		return m
	case Meter:
		switch {
		case k.Of == quantity.OfPH:
			m.SD = max(k.phSD(at), k.accuracy(7)/2)
		case geometric(k.Of) || k.Of == quantity.OfUVI:
			// A stated accuracy is a bound: taken as two standard deviations, never under half of
			// what is usual.
			share := max(k.AccuracyShare/2, k.usual(1)/2)
			m = Model{Log: true, SD: share, Shift: k.Accuracy * to.slope / 2 / share}
			if k.Of == quantity.OfEC || k.Of == quantity.OfTDS {
				m.SD = math.Hypot(share, k.driftLn(at))
			}
		default:
			m.SD = k.accuracy(0) * to.slope // stated, or what is usual
		}
		return m
	}
	m = colourModel(k.Of)
	m.Classes = len(k.Steps)
	if k.Form == Strip {
		if m.Log {
			m.SD = max(m.SD, k.stripSDLn())
		} else if n := len(k.Steps); n > 1 {
			m.SD = max(m.SD, (k.Steps[n-1]-k.Steps[0])/float64(n-1)*to.slope)
		}
	}
	if m.Log {
		m.SD = math.Hypot(m.SD, k.overdue(at)*table.Value("lot: out of date ln"))
	} else {
		m.SD = math.Hypot(m.SD, k.overdue(at)*table.Value("lot: out of date pH"))
	}
	return m
}

// ErrorWithout is the model for a number typed without a kit: that of a colour card, or of a usual
// meter where no card exists.
func ErrorWithout(of quantity.Measurand) Model {
	switch of {
	case quantity.OfGH, quantity.OfKH:
		return Kit{Of: of, Form: Drops, Unit: of.Unit(), PerDrop: 1}.Error(time.Time{})
	case quantity.OfPH, quantity.OfTAN, quantity.OfNO2, quantity.OfNO3, quantity.OfPO4,
		quantity.OfChlorine, quantity.OfChloride, quantity.OfCopper:
		return colourModel(of)
	}
	return Kit{Of: of, Form: Meter, Unit: of.Unit()}.Error(time.Time{})
}

func colourModel(of quantity.Measurand) Model {
	log := func(name, floorUnit string, basis quantity.Basis) Model {
		sd := table.Value(name + ": sd ln")
		floor := canonicalOf(of, floorUnit, basis).value(table.Value(name + ": floor"))
		return Model{Log: true, SD: sd, Shift: floor / sd, Odd: table.Value("card: odd"), Classes: 7}
	}
	switch of {
	case quantity.OfTAN:
		return log("tan card", "mg/L", quantity.AsNH4)
	case quantity.OfNO2:
		return log("no2 card", "mg/L", quantity.AsNO2)
	case quantity.OfNO3:
		m := log("no3 card", "mg/L", quantity.AsNO3)
		m.Odd = table.Value("no3 card: odd")
		return m
	case quantity.OfPO4:
		return log("po4 card", "mg/L", quantity.AsPO4)
	}
	if !geometric(of) {
		return Model{SD: table.Value("ph card: sd"), Odd: table.Value("card: odd"), Classes: 7}
	}
	return Model{Log: true, SD: table.Value("card: sd ln"), Odd: table.Value("card: odd"), Classes: 7}
}

func (k Kit) cardSDLn() float64 { return colourModel(k.Of).SD }

// stripSDLn is one class of a strip as a ratio.
func (k Kit) stripSDLn() float64 {
	first, last := 0, len(k.Steps)-1
	if k.Steps[0] == 0 {
		first = 1
	}
	if last <= first {
		return math.Ln2
	}
	return math.Log(k.Steps[last]/k.Steps[first]) / float64(last-first)
}

// Chance is the chance that the kit shows the class of iv when the truth is x (canonical): the
// likelihood of x. It is never zero when the model has odd readings.
func (m Model) Chance(iv Interval, x float64) float64 {
	at := func(b float64) float64 {
		d := b - x
		if m.Log {
			if b+m.Shift <= 0 {
				return 0
			}
			d = math.Log((b + m.Shift) / (x + m.Shift))
		}
		return 0.5 * math.Erfc(-d/m.SD/math.Sqrt2)
	}
	lo, hi := 0.0, 1.0
	if !iv.OpenBelow && !(iv.Lo <= iv.Of.Span().Lo) {
		lo = at(iv.Lo)
	}
	if !iv.OpenAbove {
		hi = at(iv.Hi)
	}
	p := max(hi-lo, 0)
	if m.Odd > 0 && m.Classes > 0 {
		p = (1-m.Odd)*p + m.Odd/float64(m.Classes)
	}
	return p
}
