package enclosure

import (
	"fmt"
	"math"

	"halfwater/husbandry"
	"halfwater/quantity"
)

// Tracer is a plan to find the held water by a little salt: so many grams of plain NaCl, dissolved
// and spread, raise EC by so much, read several times before and an hour after with one pen.
type Tracer struct {
	LnSD     float64 // what it will be known to; stated first, 0.1 for 10 %
	Better   bool    // than the estimate as it is
	Readings int     // to take before, and as many after
	Rise     quantity.Conductivity
	Salt     quantity.Grams
}

// TracerRefused says that salt must not be used, and who bears it badly.
type TracerRefused struct{ Batch, Animal string }

func (e TracerRefused) Error() string {
	if e.Animal == "" {
		return fmt.Sprintf("no salt while it is not known what %q are; use changes of known litres with EC before and after", e.Batch)
	}
	return fmt.Sprintf("no salt with %s (%s) in; use changes of known litres with EC before and after", e.Batch, e.Animal)
}

// PlanTracer plans a salt tracer for water of an EC by a pen that repeats to 1 %. The rise is the
// greatest step of EC that the stock's limits allow in a day. It is refused with [TracerRefused] while
// a crustacean, an amphibian or a batch of unknown species is in, and with [HeldUnknown] when there
// is no estimate to size it by.
//
// NaCl raises EC at 25 C by 2.03 uS/cm for each mg/L at 5 to 15 mmol/L (equivalent conductivity
// 118.5 S cm2/mol at 0.01 mol/L over 58.44 g/mol; handbook value from memory), to about 2 %.
func (h HeldEstimate) PlanTracer(stock []Batch, ec quantity.Conductivity) (Tracer, error) {
	if len(h.sum) == 0 {
		return Tracer{}, HeldUnknown{}
	}
	if !(ec > 0) {
		return Tracer{}, Fault{Of: "tracer", Field: "ec", Code: "enclosure.tracer-ec", Is: fmt.Sprintf("is %g", ec), Do: "read the EC of the water first"}
	}
	var kept []husbandry.Kept
	for _, b := range stock {
		if b.Count <= 0 {
			continue
		}
		s, err := husbandry.Lookup(b.Species)
		if err != nil {
			return Tracer{}, TracerRefused{b.Name, ""}
		}
		if s.Group.Crustacean() || s.Group.Amphibian() {
			return Tracer{}, TracerRefused{b.Name, s.Common}
		}
		kept = append(kept, husbandry.Grown(s))
	}
	steps := husbandry.StepLimitsOf(kept)
	t := Tracer{Readings: int(table.Value("tracer readings")), Rise: steps.StepEC(ec)}
	perMg := table.Value("salt ec")
	t.Salt = quantity.Milligrams(float64(t.Rise) / perMg * float64(h.Held.Median))
	// the rise is a difference of two means of readings that repeat to 1 %
	reading := table.Value("tracer repeat") * math.Hypot(float64(ec), float64(ec+t.Rise)) / float64(t.Rise) / math.Sqrt(float64(t.Readings))
	t.LnSD = math.Hypot(reading, table.Value("salt ec sd"))
	t.Better = t.LnSD < h.LnSD
	return t, nil
}

// Doubt is what the held water will be known to, as a share.
func (t Tracer) Doubt() quantity.Share { return quantity.Share(t.LnSD) }

// Found is the held water that a tracer showed: grams of salt over the rise of EC.
func (t Tracer) Found(salt quantity.Grams, before, after quantity.Conductivity) quantity.Band[quantity.HeldLitres] {
	mgPerL := float64(after-before) / table.Value("salt ec")
	return lnBand[quantity.HeldLitres](salt.Milligrams()/mgPerL, t.LnSD)
}
