package fit

import "slices"

// shape is what a problem is made of: by it the next one knows again what it has in common with it.
type shape struct {
	parts    parts
	from     []float64 // the day from which an unknown acts, of those that need a run
	readings []known   // by reading
	last     float64   // day of the last of them
}

// known is what a reading is known by: its name, and how its kit sees.
type known struct {
	name  string
	log   bool
	shift float64
}

func (b *bench) shape() shape {
	s := shape{parts: b.parts(&b.layout), from: b.from}
	for i := range b.Readings {
		r := &b.Readings[i]
		s.readings = append(s.readings, known{r.Name, r.Log, r.Shift})
		s.last = max(s.last, r.Day)
	}
	return s
}

// within reports whether all unknowns that need a run stand in another shape as well and act from the same day on, and those
// that it has beside them act on no reading of this one.
func (s *shape) within(o *shape) bool {
	shared := make([]bool, len(o.from))
	for name, a := range s.parts {
		if a.at >= len(s.from) {
			continue
		}
		b, ok := o.parts[name]
		if !ok || b.n < a.n {
			return false
		}
		for k := range a.n {
			if s.from[a.at+k] != o.from[b.at+k] {
				return false
			}
			shared[b.at+k] = true
		}
	}
	for j, day := range o.from {
		if !shared[j] && day < s.last {
			return false
		}
	}
	return true
}

// again are the places of a posterior of nearly the same problem, with the lean and, where they still hold, the effects that
// were found about them. A reading that it did not have has none.
func (b *bench) again(before *Posterior) []mode {
	now := b.shape()
	places := make([]mode, len(before.Branches))
	for i := range places {
		m, was := &places[i], &before.Branches[i]
		onto := func(z []float64) []float64 {
			out := make([]float64, b.n)
			before.shape.parts.onto(now.parts, z, out)
			return out
		}
		m.z = onto(was.Mode)
		if was.lean.by != nil {
			m.lean = lean{onto(was.lean.at), onto(was.lean.by)}
		}
		if !before.shape.within(&now) {
			continue
		}
		for _, reading := range now.readings {
			var row []float64
			if k := slices.Index(before.shape.readings, reading); k >= 0 && reading.name != "" {
				row = onto(was.effects[k])
			}
			m.slopes.of = append(m.slopes.of, row)
		}
	}
	return places
}

// resume climbs on from a place that was found before. Effects that were found about it serve, as long as it has not moved
// far; those on new readings are found now.
func (b *bench) resume(m mode) mode {
	before := m.slopes.of
	m.slopes.of = nil
	if !slices.ContainsFunc(before, func(row []float64) bool { return row != nil }) {
		return b.climb(m, truly)
	}
	b.live(m.z, &m.run)
	if slices.ContainsFunc(before, func(row []float64) bool { return row == nil }) {
		m.slopes = b.effects(&m)
	} else {
		m.slopes.of = make([][]float64, len(before))
		for i := range m.slopes.of {
			m.slopes.of[i] = make([]float64, b.n)
		}
		b.plain(&m, &m.slopes)
	}
	for i, row := range before {
		if row != nil {
			copy(m.slopes.of[i], row[:b.runs])
		}
	}
	found := b.climb(m, care{0, truly.enough})
	if found.done && apart(found.z, m.lean.at) <= same {
		return found
	}
	return b.climb(mode{z: m.z, lean: m.lean}, truly)
}
