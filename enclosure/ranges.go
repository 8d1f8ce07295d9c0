package enclosure

import (
	"errors"
	"fmt"
	"math"

	"halfwater/husbandry"
	"halfwater/quantity"
)

// Owner is who sets one end of a keeping range.
type Owner struct {
	Batch  string // the batch by its stock name; "" when nobody sets the end or the keeper does
	Animal string // the common name of its species
	Plant  bool
	Keeper bool
	Reason string // the keeper's own words, or the code of husbandry's need
}

func (o Owner) String() string {
	switch {
	case o.Keeper:
		return "your own range"
	case o.Animal == "":
		return "nobody"
	}
	return o.Animal
}

// KeepingRange is where one measurand has to stay for the stock, in its canonical unit; an end that
// nobody sets is an infinity.
type KeepingRange struct {
	Of         quantity.Measurand
	When       husbandry.When
	Range      quantity.Range[float64]
	LoBy, HiBy Owner
	// Beyond names who would have it narrower at an end where the keeper's own range is looser.
	Beyond []Owner
}

// Ranges are the keeping ranges, lines and step limits of a stock.
type Ranges struct {
	All   []KeepingRange // in the order in which the stock first asks
	Class husbandry.Class
	Why   husbandry.Because
	Steps husbandry.StepLimits
	// LeftOut are needs that do not count: of air breathers that only splash, and of plants that an
	// animal's need overrules.
	LeftOut []husbandry.Need
	// Unknown are batches whose species is not in the table or not given. With one of them in, lines
	// and steps are the strictest of the table.
	Unknown []string

	kept []husbandry.Kept
	own  []husbandry.Override
}

// Of gives the keeping range of a measurand that holds at all hours.
func (r Ranges) Of(m quantity.Measurand) (KeepingRange, bool) { return r.At(m, husbandry.Always) }

// At gives the keeping range of a measurand for a part of the day.
func (r Ranges) At(m quantity.Measurand, when husbandry.When) (KeepingRange, bool) {
	for _, k := range r.All {
		if k.Of == m && k.When == when {
			return k, true
		}
	}
	return KeepingRange{}, false
}

// Lines are the watch and act lines for this stock in water of a chloride as far as known, with the
// keeper's own on top.
func (r Ranges) Lines(chloride husbandry.Maybe[quantity.MgPerL]) husbandry.Lines {
	stock := r.kept
	if len(r.Unknown) > 0 {
		stock = nil
	}
	lines := husbandry.LinesOf(stock, chloride)
	for _, o := range r.own {
		// A line that the table does not have for this stock, or that is tight enough, stays.
		if with, err := lines.With(o); err == nil {
			lines = with
		}
	}
	return lines
}

// Kept is the stock as husbandry sees it; batches of unknown species are not in it.
func (r Ranges) Kept() []husbandry.Kept { return r.kept }

// Conflict is a range that is empty: what one needs at least is more than another bears.
type Conflict struct {
	Of         quantity.Measurand
	When       husbandry.When
	Lo, Hi     float64 // the ends that do not meet, Lo > Hi
	LoBy, HiBy Owner
}

func (e Conflict) Error() string {
	return fmt.Sprintf("%s: %s needs at least %.4g %s, %s bears at most %.4g: they cannot share this enclosure; house one of them apart, or set a range of your own",
		e.Of.Label(), e.LoBy, e.Lo, e.Of.Unit(), e.HiBy, e.Hi)
}

// KeepingRanges joins what the stock needs into one range per measurand: the part that all needs
// share, each end with the animal that sets it, and the keeper's own range on top.
//
// Ranges of GH, KH, pH and nitrate of air breathers that only splash do not enter. A plant narrows
// a range only as far as the animals leave room. An end of the keeper's own replaces that of the
// stock; where it is looser, Beyond names who is passed. Lines of poisons and of oxygen, and step
// limits, are never loosened: an own end that would is refused with [husbandry.LooserThanTable].
//
// Ranges that are empty come back as [Conflict], joined; the other ranges are filled all the same.
// A batch with a count of 0 is none.
func KeepingRanges(stock []Batch, wanted []RangeWanted) (Ranges, error) {
	var r Ranges
	var plants []husbandry.Need
	batchOf := map[string]string{}
	for _, b := range stock {
		if b.Count <= 0 {
			continue
		}
		s, err := husbandry.Lookup(b.Species)
		if err != nil {
			r.Unknown = append(r.Unknown, b.Name)
			continue
		}
		k := husbandry.Grown(s)
		if b.Larvae {
			k.Stage = husbandry.Larva
		}
		if _, twice := batchOf[s.Common]; !twice {
			batchOf[s.Common] = b.Name
		}
		r.kept = append(r.kept, k)
		r.LeftOut = append(r.LeftOut, husbandry.LeftOut(k)...)
		for _, n := range husbandry.Needs(k) {
			if n.FromPlant {
				plants = append(plants, n)
				continue
			}
			r.narrow(n, Owner{Batch: b.Name, Animal: n.Who, Reason: string(n.Reason)})
		}
	}
	for _, n := range plants {
		at, ok := r.At(n.Of, n.When)
		if ok && !at.Range.Empty() && at.Range.Meet(n.Range).Empty() {
			r.LeftOut = append(r.LeftOut, n)
			continue
		}
		r.narrow(n, Owner{Batch: batchOf[n.Who], Animal: n.Who, Plant: true, Reason: string(n.Reason)})
	}
	known := r.kept
	if len(r.Unknown) > 0 {
		known = nil
	}
	r.Class, r.Why = husbandry.ClassOf(known)
	r.Steps = husbandry.StepLimitsOf(known)

	var faults []error
	for _, w := range wanted {
		if err := r.want(w, known); err != nil {
			faults = append(faults, err)
		}
	}
	for _, k := range r.All {
		if k.Range.Empty() {
			faults = append(faults, Conflict{k.Of, k.When, k.Range.Lo, k.Range.Hi, k.LoBy, k.HiBy})
		}
	}
	return r, errors.Join(faults...)
}

func (r *Ranges) index(of quantity.Measurand, when husbandry.When) int {
	for i, k := range r.All {
		if k.Of == of && k.When == when {
			return i
		}
	}
	r.All = append(r.All, KeepingRange{Of: of, When: when, Range: quantity.Range[float64]{Lo: math.Inf(-1), Hi: math.Inf(1)}})
	return len(r.All) - 1
}

func (r *Ranges) narrow(n husbandry.Need, by Owner) {
	k := &r.All[r.index(n.Of, n.When)]
	if n.Range.Lo > k.Range.Lo {
		k.Range.Lo, k.LoBy = n.Range.Lo, by
	}
	if n.Range.Hi < k.Range.Hi {
		k.Range.Hi, k.HiBy = n.Range.Hi, by
	}
}

// want lays the keeper's own range on top, in every part of the day that the measurand has.
func (r *Ranges) want(w RangeWanted, known []husbandry.Kept) error {
	if err := w.Check(); err != nil {
		return err
	}
	if err := r.ownLine(w, known); err != nil {
		return err
	}
	me := Owner{Keeper: true, Reason: w.Reason}
	found := false
	for i := range r.All {
		if r.All[i].Of == w.Of {
			found = true
			r.All[i].put(w.Range, me)
		}
	}
	if !found {
		r.All[r.index(w.Of, husbandry.Always)].put(w.Range, me)
	}
	return nil
}

func (k *KeepingRange) put(own quantity.Range[float64], me Owner) {
	if !math.IsInf(own.Lo, 0) {
		if own.Lo < k.Range.Lo && k.LoBy.Animal != "" {
			k.Beyond = append(k.Beyond, k.LoBy)
		}
		k.Range.Lo, k.LoBy = own.Lo, me
	}
	if !math.IsInf(own.Hi, 0) {
		if own.Hi > k.Range.Hi && k.HiBy.Animal != "" {
			k.Beyond = append(k.Beyond, k.HiBy)
		}
		k.Range.Hi, k.HiBy = own.Hi, me
	}
}

// ownLine turns the end of an own range that has a line into a line of the keeper's own. The act
// lines of nitrite and oxygen follow it and may only be tightened; the watch line of nitrate follows
// when it is tightened.
func (r *Ranges) ownLine(w RangeWanted, known []husbandry.Kept) error {
	o := husbandry.Override{Grade: husbandry.ActLine}
	switch {
	case w.Of == quantity.OfNO2 && !math.IsInf(w.Range.Hi, 0):
		o.Of, o.Value = husbandry.NitriteLine, w.Range.Hi
	case w.Of == quantity.OfOxygen && !math.IsInf(w.Range.Lo, 0):
		o.Of, o.Value = husbandry.OxygenLine, w.Range.Lo
	case w.Of == quantity.OfNO3 && !math.IsInf(w.Range.Hi, 0):
		o.Of, o.Grade, o.Value = husbandry.NitrateLine, husbandry.WatchLine, w.Range.Hi
	default:
		return nil
	}
	lines := husbandry.LinesOf(known, husbandry.Maybe[quantity.MgPerL]{})
	line, ok := lines.Of(o.Of)
	if !ok {
		return nil
	}
	if o.Of == husbandry.NitrateLine {
		if watch, ok := line.Watch.Get(); ok && o.Value >= watch {
			return nil
		}
	}
	if _, err := lines.With(o); err != nil {
		return fmt.Errorf("your own range of %s: %w", w.Of.Label(), err)
	}
	r.own = append(r.own, o)
	return nil
}
