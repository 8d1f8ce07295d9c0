package fit

import (
	"cmp"
	"math"
	"slices"
)

// How bends are looked at. Judgement; doc/infer.md says what other values of told gave.
const (
	told    = 1    // information, the prior's being 1, from which on a direction is gone along
	bearing = 0.1  // information of an unknown by itself from which on it is moved there,
	dearest = 1300 // runs: where there are more to be moved, those about which least is said are left out
	aside   = 1    // how far is gone, in deviations of the posterior,
	nearest = 0.2  // and at least in those of the prior
)

// direction is one of the scores about which readings say something: of length 1, and orthogonal to the others.
type direction struct {
	along []float64
	by    []float64 // the share of each reading in what is said
	says  float64   // information, the prior's being 1
}

// directions are those about which the readings say at least so much: the singular vectors of w J, found among the readings or
// among the scores, of whichever there are fewer.
func (k *kernel) directions(least float64) []direction {
	if len(k.rows) == 0 {
		return nil
	}
	columns := make([][]float64, len(k.rows[0]))
	for j := range columns {
		for _, row := range k.rows {
			columns[j] = append(columns[j], row[j])
		}
	}
	few, many := k.rows, columns
	if len(few) > len(many) {
		few, many = many, few
	}
	products := NewSymmetric(len(few))
	for _, x := range many {
		products.addOuter(1, x)
	}
	found := informedOf(products, 0)
	var out []direction
	for r, says := range found.told {
		if says < least {
			break
		}
		d := direction{says: says, by: found.rows[r]}
		for _, x := range many {
			d.along = append(d.along, dot(x, d.by)/math.Sqrt(says))
		}
		if len(few) != len(k.rows) {
			d.along, d.by = d.by, d.along
		}
		out = append(out, d)
	}
	return out
}

// far is how far is gone along it.
func (d *direction) far() float64 { return math.Max(aside/math.Sqrt(1+d.says), nearest) }

// bends adds what the effects change along some directions: their sum over the mode and a place along each, by reading and
// place weighed so that only changes are left.
func (b *bench) bends(w Watch, m *mode, k *kernel, directions []direction, to []float64) {
	rough := b.coarse()
	type place struct {
		mode
		kits, by []float64 // by reading: what is seen there, the weight
	}
	places := make([]place, 1+len(directions)) // the mode first
	b.stop.each(len(places), func(n int, _ *run) {
		p := &places[n]
		p.z, p.by = append([]float64(nil), m.z...), make([]float64, len(b.Readings))
		if n > 0 {
			d := &directions[n-1]
			for j, x := range d.along {
				p.z[j] += d.far() * x
			}
		}
		rough.live(p.z, &p.run)
		p.kits = rough.asKits(p.z, &p.run)
	})
	if b.stop.Stopped() {
		return
	}
	looked := places[:1]
	for n := range directions {
		d, p := &directions[n], &places[n+1]
		if !sound(p.kits) {
			continue
		}
		for i, u := range d.by {
			p.by[i] = u * k.weight[i] * math.Sqrt(d.says) / (1 + d.says) / d.far()
			places[0].by[i] -= p.by[i]
		}
		looked = append(looked, *p)
	}
	moved := b.bearing(k)
	if few := dearest / len(looked); few < len(moved) {
		moved = moved[:few]
	}
	w.each(len(moved), func(n int, r *run) {
		j := moved[n]
		z, change := make([]float64, b.n), 0.0
		for n := range looked {
			p := &looked[n]
			copy(z, p.z)
			z[j] += nudge
			rough.liveFrom(z, b.from[j], &p.run, r)
			for i, x := range rough.asKits(z, r) {
				change += p.by[i] * (x - p.kits[i]) / nudge
			}
		}
		if sound([]float64{change}) {
			to[j] -= change
		}
	})
	for n := range looked {
		p := &looked[n]
		for range b.Readings {
			p.slopes.of = append(p.slopes.of, make([]float64, b.n))
		}
		rough.plain(&p.mode, &p.slopes)
		for i, row := range p.slopes.of {
			for j := b.runs; j < b.n; j++ {
				to[j] -= p.by[i] * row[j]
			}
		}
	}
}

// bearing are the unknowns that need a run and of which the readings say something, the most first.
func (b *bench) bearing(k *kernel) (unknowns []int) {
	says := make([]float64, b.runs)
	for j := range says {
		if says[j] = k.says(j); says[j] >= bearing {
			unknowns = append(unknowns, j)
		}
	}
	slices.SortStableFunc(unknowns, func(i, j int) int { return cmp.Compare(says[j], says[i]) })
	return unknowns
}
