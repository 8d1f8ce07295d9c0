package plan

import (
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/quantity"
	"halfwater/water"
)

// startRO says when each RO unit has to start so that its water is there: for this visit, or for
// the next when it is too late for this one. What is needed is what the blend wants with every
// store full, less what is in store.
func (v *visit) startRO(cut []int, wishes []wish, litres quantity.Litres) []ROStart {
	wanted := cut
	if full, ok := v.fullStores().blended(wishes, litres, nil); ok {
		most := make([]quantity.Litres, len(v.sources))
		for i := range most {
			most[i] = litres
		}
		wanted = toHalves(halves(litres), full.shares, most)
	}
	var out []ROStart
	for i, s := range v.sources {
		unit, ok := v.fitting(s.fact.MadeBy)
		if !ok {
			continue
		}
		need := quantity.Litres(wanted[i])/2 - s.fact.InStore.Value
		if need < 1 {
			continue // not worth a word
		}
		p, err := unit.Production(v.feedTemperature(), v.timedLitres(unit.Name)...)
		if err != nil {
			v.refuse(Refused{Code: "plan.ro-unrated"})
			continue
		}
		out = append(out, v.startOf(unit, s.name, need, p, time.Duration(v.interval*float64(day))))
	}
	return out
}

// startOf is when a unit starts for a need: for this visit, or, when it is too late for that, for one
// that is later by so much.
func (v *visit) startOf(unit enclosure.Fitting, source string, need quantity.Litres, p enclosure.Production, later time.Duration) ROStart {
	usual, atMost := p.Takes(need)
	r := ROStart{
		Fitting: unit.Name, Source: source, Litres: need, Rate: p.Rate.Median, Learnt: p.Learnt,
		Duration: usual.Round(time.Minute), For: v.on, Reject: p.Reject(need),
	}
	for later > 0 && r.For.Add(-atMost).Before(v.Now) {
		r.For = r.For.Add(later)
	}
	r.StartBy = r.For.Add(-atMost).Truncate(5 * time.Minute)
	return r
}

// startMissing is what a unit has to make before this visit can pour at all as it should: less than
// half of what the blend wants of its water is in store, and the rest would be another water. Nil
// when the store bears the pour. A visit that waits is put off by whole days.
func (v *visit) startMissing() []ROStart {
	if !slices.ContainsFunc(v.sources, func(s source) bool { return s.fact.MadeBy != "" && s.store < endless }) {
		return nil
	}
	full := v.fullStores()
	full.refused = nil // what it would refuse is not refused here
	c, ok := full.choose()
	litres := v.litres(c.share)
	if !ok || !(litres > 0) {
		return nil
	}
	var out []ROStart
	for i, s := range v.sources {
		unit, is := v.fitting(s.fact.MadeBy)
		want := quantity.Litres(math.Round(c.blend.shares[i]*float64(litres)*2) / 2)
		if !is || s.store >= want*enoughInStore || want-s.store < 1 {
			continue
		}
		p, err := unit.Production(v.feedTemperature(), v.timedLitres(unit.Name)...)
		if err != nil {
			v.refuse(Refused{Code: "plan.ro-unrated"})
			continue
		}
		out = append(out, v.startOf(unit, s.name, want-s.store, p, day))
	}
	return out
}

func (v *visit) storeOf(source string) quantity.Litres {
	for _, s := range v.sources {
		if s.name == source {
			return s.store
		}
	}
	return 0
}

// fullStores is the same desk with every store full.
func (v *visit) fullStores() *visit {
	w := *v
	w.sources = append([]source(nil), v.sources...)
	for i := range w.sources {
		w.sources[i].store = endless
	}
	return &w
}

func (v *visit) fitting(name string) (enclosure.Fitting, bool) {
	for _, f := range v.Facts.Fittings {
		if name != "" && f.Name == name && f.What == enclosure.ROUnit {
			return f, true
		}
	}
	return enclosure.Fitting{}, false
}

// feedTemperature is that of the mains that runs into an RO unit.
func (v *visit) feedTemperature() quantity.Celsius {
	for _, s := range v.sources {
		a := s.fact.Analysis
		if s.fact.MadeBy == "" && a.Kind != water.RO && a.Kind != water.Rain && a.Temperature.Is {
			return a.Temperature.Value
		}
	}
	return coldMain
}

func (v *visit) timedLitres(fitting string) []enclosure.TimedLitre {
	var out []enclosure.TimedLitre
	for _, l := range v.Lines {
		b, ok := l.Body.(book.TimedLitre)
		if !ok || !v.mine(l) || b.Fitting != fitting || v.on.Sub(l.At) > timedFor {
			continue
		}
		litres := b.Litres
		if litres == 0 {
			litres = 1
		}
		out = append(out, enclosure.TimedLitre{Litres: litres, Seconds: b.Seconds, Temp: b.Temp, Reject: b.Reject})
	}
	return out
}
