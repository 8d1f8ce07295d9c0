package enclosure

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"halfwater/husbandry"
	"halfwater/quantity"
)

// Fault is what is wrong with one field of a fact, and what to do.
type Fault struct {
	Of, Key string // kind and key of the fact
	Field   string
	Code    string // of the sentence in internal/say
	Is      string // what is there now
	Do      string
	Err     error // the cause, when there is one: husbandry.UnknownSpecies, ...
}

func (e Fault) Error() string {
	of := e.Of
	if e.Key != "" {
		of += fmt.Sprintf(" %q", e.Key)
	}
	return fmt.Sprintf("%s, %s %s: %s", of, e.Field, e.Is, e.Do)
}

func (e Fault) Unwrap() error { return e.Err }

// faults gathers what is wrong with one fact.
type faults struct {
	fact Fact
	list []error
}

func (f *faults) add(field, code, is, do string) {
	f.list = append(f.list, Fault{Of: f.fact.Kind(), Key: f.fact.Key(), Field: field, Code: code, Is: is, Do: do})
}

func (f *faults) named(name string) {
	if strings.TrimSpace(name) == "" {
		f.add("name", "enclosure.no-name", "is empty", "give it the name that you use")
	}
}

// from refuses numbers under lo (and what is no number).
func (f *faults) from(field string, x, lo float64, unit string) bool {
	if x >= lo && !math.IsInf(x, 0) {
		return true
	}
	f.add(field, "enclosure.negative", fmt.Sprintf("is %g %s", x, unit), fmt.Sprintf("give %g or more", lo))
	return false
}

// within refuses numbers outside lo to hi.
func (f *faults) within(field, code string, x, lo, hi float64, unit, do string) bool {
	if x >= lo && x <= hi {
		return true
	}
	f.add(field, code, strings.TrimSpace(fmt.Sprintf("is %g %s", x, unit)), do)
	return false
}

func (f *faults) err() error { return errors.Join(f.list...) }

// Check says what is wrong, every fault joined; nil when nothing is. So do the other Check methods
// of the facts.
func (a About) Check() error {
	f := &faults{fact: a}
	f.within("altitude", "enclosure.altitude", float64(a.Altitude), -450, 6000, "m", "give metres above the sea, or leave it out")
	f.within("room", "enclosure.room", float64(a.Room), 0, 50, "°C", "give the usual room temperature in °C, or leave it out")
	return f.err()
}

// Check says what is wrong with the measures of the box.
func (b Basin) Check() error {
	f := &faults{fact: b}
	sides := true
	for _, s := range []struct {
		name string
		x    quantity.Millimetres
	}{{"length", b.Length}, {"width", b.Width}, {"height", b.Height}} {
		if !(s.x > 0 && s.x <= 10000) {
			sides = false
			f.add(s.name, "enclosure.no-footprint", fmt.Sprintf("is %g cm", s.x.Centimetres()), "measure the inside of the glass")
		}
	}
	if !sides {
		return f.err()
	}
	marks := f.within("full mark", "enclosure.full-mark", b.FullMark.Centimetres(), 0.1, b.Height.Centimetres(), "cm",
		fmt.Sprintf("give the usual level above the inside foot of the glass, at most the height of %g cm", b.Height.Centimetres()))
	if marks {
		for _, m := range []struct {
			name string
			x    quantity.Millimetres
		}{{"pump intake", b.PumpIntake}, {"heater line", b.HeaterLine}} {
			f.within(m.name, "enclosure.above-full-mark", m.x.Centimetres(), 0, b.FullMark.Centimetres(), "cm",
				fmt.Sprintf("it must lie under the full mark of %g cm; 0 when there is none", b.FullMark.Centimetres()))
		}
	}
	shares := f.within("land share", "enclosure.share", float64(b.LandShare), 0, 0.99, "", "write the share of the footprint that is land at the full mark, 35 % as 0.35")
	for _, h := range []struct {
		name string
		x    quantity.Millimetres
	}{{"bed in front", b.BedFront}, {"bed at the back", b.BedBack}} {
		shares = f.within(h.name, "enclosure.bed", h.x.Centimetres(), 0, b.Height.Centimetres(), "cm",
			fmt.Sprintf("give the height of the bed above the foot of the glass, at most %g cm", b.Height.Centimetres())) && shares
	}
	shape := b.checkProfile(f)
	masses := f.from("stone", b.StoneKg, 0, "kg")
	masses = f.from("wood", b.WoodKg, 0, "kg") && masses
	f.within("filter", "enclosure.filter", float64(b.FilterLitres), 0, float64(b.Gross(b.Height)), "L",
		"give the litres in an outside filter, less than the box; 0 when there is none")
	if marks && shares && shape && masses {
		if open := b.openBox(float64(b.FullMark)); open <= 0 {
			f.add("bed in front", "enclosure.no-water", "leaves no open water under the full mark", "measure bed, land and full mark again")
		} else if d := b.displaced(); d >= 0.8*open {
			f.add("stone", "enclosure.displaced", fmt.Sprintf("and wood take %.0f L of %.0f L of open water", d, open), "give the mass of what stands under water, in kg")
		}
	}
	return f.err()
}

func (b Basin) checkProfile(f *faults) bool {
	if len(b.Profile) == 1 {
		f.add("profile", "enclosure.profile", "has one point", "give at least two points, left to right, or none")
		return false
	}
	for i, p := range b.Profile {
		if !(p.X >= 0 && p.X <= b.Length && p.Z >= 0 && p.Z <= b.Height) {
			f.add("profile", "enclosure.profile", fmt.Sprintf("has the point (%g, %g)", p.X.Centimetres(), p.Z.Centimetres()),
				fmt.Sprintf("keep x within the length of %g cm and z within the height of %g cm", b.Length.Centimetres(), b.Height.Centimetres()))
			return false
		}
		if i > 0 && p.X < b.Profile[i-1].X {
			f.add("profile", "enclosure.profile-order", fmt.Sprintf("goes back from x %g to %g cm", b.Profile[i-1].X.Centimetres(), p.X.Centimetres()), "give its points from left to right")
			return false
		}
	}
	return true
}

// Check says what is wrong with a source water. What its analysis lacks or contradicts is said by
// package water when it is used.
func (s SourceWater) Check() error {
	f := &faults{fact: s}
	f.named(s.Name)
	f.from("in store", float64(s.InStore.Value), 0, "L")
	return f.err()
}

// The words for what a fitting is.
const (
	Heater = "heater"
	Pump   = "pump"
	ROUnit = "ro unit"
)

// Check says what is wrong with a fitting. What it lacks is said by [Fitting.Missing].
func (t Fitting) Check() error {
	f := &faults{fact: t}
	f.named(t.Name)
	if strings.TrimSpace(t.What) == "" {
		f.add("what", "enclosure.no-what", "is empty", "say what it is: heater, pump, lamp, uv lamp, mister, ro unit, timer, rcd, air pump")
	}
	f.from("power", float64(t.Power), 0, "W")
	f.from("rated", float64(t.Rated), 0, "L/d")
	f.from("reject ratio", t.RejectRatio, 0, "L/L")
	f.within("pressure share", "enclosure.share", float64(t.PressureShare), 0, 2, "", "write the share of the rated pressure, 73 % as 0.73; 0 when not known")
	f.within("rated temperature", "enclosure.rated-temp", float64(t.RatedTemp), 0, 45, "°C", "give the temperature of the rating, usually 25 °C; 0 when not known")
	return f.err()
}

// Missing are the codes of what a fitting lacks for the work it is wanted for; none when it is whole.
func (t Fitting) Missing() []string {
	var out []string
	if t.What == ROUnit {
		if t.Rated == 0 {
			out = append(out, "enclosure.ro-rated")
		}
		if t.PressureShare == 0 {
			out = append(out, "enclosure.ro-pressure")
		}
		if t.RejectRatio == 0 {
			out = append(out, "enclosure.ro-reject")
		}
	}
	if t.What == Heater && t.Power == 0 {
		out = append(out, "enclosure.heater-power")
	}
	return out
}

// Check says what is wrong with a filter stage.
func (s Stage) Check() error {
	f := &faults{fact: s}
	f.named(s.Name)
	f.from("order", float64(s.Order), 0, "")
	f.from("clean jug", s.CleanJug.Seconds(), 0, "s")
	f.from("jug", float64(s.Jug), 0, "L")
	if s.CleanJug > 0 && s.Jug == 0 {
		f.add("jug", "enclosure.jug", "is not given", "say how many litres the timed jug holds")
	}
	return f.err()
}

// Check says what is wrong with a card of the stock list. A species that is not in the table is
// refused with names that look like it.
func (b Batch) Check() error {
	f := &faults{fact: b}
	f.named(b.Name)
	f.from("count", float64(b.Count), 0, "")
	f.from("mass", float64(b.Mass), 0, "g")
	if b.Species != "" {
		if _, err := husbandry.Lookup(b.Species); err != nil {
			do := "doc/species.md lists the names; else leave the species out, name it in the note and give its ranges as your own"
			var u husbandry.UnknownSpecies
			if errors.As(err, &u) && len(u.Near) > 0 {
				do = "did you mean " + strings.Join(u.Near, ", ") + "? Or " + do
			}
			f.list = append(f.list, Fault{b.Kind(), b.Name, "species", "enclosure.species", fmt.Sprintf("%q is not in the table", b.Species), do, err})
		}
	}
	return f.err()
}

// Check says what is wrong with a range of the keeper's own.
func (r RangeWanted) Check() error {
	f := &faults{fact: r}
	if !r.Of.Known() {
		f.add("of", "enclosure.unknown-measurand", fmt.Sprintf("%q is nothing that can be read", r.Of), "say what the range is of: gh, kh, ph, ec, no3, water temp, ...")
		return f.err()
	}
	if r.Range.Empty() {
		f.add("range", "enclosure.range-empty", fmt.Sprintf("goes from %g to %g", r.Range.Lo, r.Range.Hi), "give the lower end first")
	} else if r.Range.Meet(r.Of.Span()).Empty() {
		f.add("range", "enclosure.range-span", fmt.Sprintf("%g to %g %s cannot be", r.Range.Lo, r.Range.Hi, r.Of.Unit()), "look at the unit")
	}
	return f.err()
}

// Check says what is wrong with a vessel.
func (v Vessel) Check() error {
	f := &faults{fact: v}
	f.named(v.Name)
	if !(v.Litres > 0) || math.IsInf(float64(v.Litres), 0) {
		f.add("litres", "enclosure.vessel", fmt.Sprintf("are %g", v.Litres), "say how many litres it holds")
	}
	f.from("count", float64(v.Count), 0, "")
	return f.err()
}

// Check says what is wrong with a neutraliser's label.
func (n Neutraliser) Check() error {
	f := &faults{fact: n}
	f.named(n.Name)
	if !(n.MlPer > 0) || math.IsInf(n.MlPer, 0) {
		f.add("millilitres", "enclosure.label", fmt.Sprintf("are %g", n.MlPer), "copy the dose from the label: so many mL for so many litres")
	}
	if !(n.ForLitres > 0) || math.IsInf(float64(n.ForLitres), 0) {
		f.add("litres", "enclosure.label", fmt.Sprintf("are %g", n.ForLitres), "copy the dose from the label: so many mL for so many litres")
	}
	return f.err()
}

// Check says what is wrong with the routine.
func (r Routine) Check() error {
	f := &faults{fact: r}
	f.within("change share", "enclosure.share", float64(r.ChangeShare), 0, 1, "", "write the share of the held water, 20 % as 0.2")
	f.from("every days", float64(r.EveryDays), 0, "d")
	return f.err()
}

// Check says whether such a fact can end.
func (r Retired) Check() error {
	f := &faults{fact: r}
	kinds := []string{"basin", "routine", "source water", "fitting", "stage", "stock", "range", "vessel", "neutraliser", "kit"}
	if !slices.Contains(kinds, r.OfKind) {
		f.add("kind", "enclosure.retired", fmt.Sprintf("%q cannot end", r.OfKind), "use one of "+strings.Join(kinds, ", "))
	} else if r.OfKey == "" && r.OfKind != "basin" && r.OfKind != "routine" {
		f.add("key", "enclosure.retired", "is empty", "say which "+r.OfKind+" by its name")
	}
	return f.err()
}
