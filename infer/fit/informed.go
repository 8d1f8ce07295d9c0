package fit

import (
	"math"
	"slices"
)

// informed are the directions in the space of the scores about which the readings say something, by what
// they say on average over some places (likelihood-informed subspace: Cui, Law and Marzouk 2016). Across them
// the posterior is much as the prior.
type informed struct {
	rows [][]float64 // orthonormal, the best informed first
	told []float64   // information beside the prior's, which is 1
}

// barely is the information beside the prior's from which a direction counts as informed.
const barely = 0.05

// information averages what the readings say of the scores over places.
func (b *bench) information(places [][]float64) Symmetric {
	sum := NewSymmetric(b.n)
	for _, z := range places {
		m := mode{z: z}
		b.live(z, &m.run)
		if math.IsInf(b.weight(z, &m.run), -1) || math.IsNaN(b.weight(z, &m.run)) {
			continue
		}
		m.slopes = b.effects(&m)
		root, _ := b.weighed(&m)
		for i, row := range m.slopes.of {
			w := root[i] * root[i] / float64(len(places))
			if sound(row) && !math.IsNaN(w) && !math.IsInf(w, 0) {
				sum.addOuter(w, row)
			}
		}
	}
	return sum
}

func sound(row []float64) bool {
	return !slices.ContainsFunc(row, func(x float64) bool { return math.IsNaN(x) || math.Abs(x) > 1e6 })
}

// informedOf finds the directions of an information among the unknowns from first on, the others being held.
func informedOf(h Symmetric, first int) informed {
	var out informed
	values, vectors, ok := h.eigen(first)
	if !ok {
		return out
	}
	for k := len(values) - 1; k >= 0 && values[k] > barely; k-- {
		row := make([]float64, len(h))
		copy(row[first:], vectors[k])
		out.rows, out.told = append(out.rows, row), append(out.told, values[k])
	}
	return out
}

// of gives the coordinates of a vector of scores in the informed directions.
func (d *informed) of(z []float64) []float64 {
	out := make([]float64, len(d.rows))
	for i, row := range d.rows {
		out[i] = dot(row, z)
	}
	return out
}

// add moves z by so much in the informed directions.
func (d *informed) add(z, by []float64) {
	for i, row := range d.rows {
		if x := by[i]; x != 0 {
			for j, r := range row {
				z[j] += x * r
			}
		}
	}
}

// across takes out of z what it has in the informed directions.
func (d *informed) across(z []float64) {
	by := d.of(z)
	for i := range by {
		by[i] = -by[i]
	}
	d.add(z, by)
}

// guide is where chains were met, as a normal in the informed directions.
type guide struct {
	centre []float64
	root   [][]float64 // lower triangular, of the covariance
}

// guideBy is the mean and covariance of places in the informed directions, the covariance being mixed
// with the one that the information alone would give, as if that had been seen in some of them. It is nil when
// there is no informed direction.
func guideBy(d *informed, met [][]float64) *guide {
	r, n := len(d.rows), float64(len(met))
	if r == 0 || len(met) < 2 {
		return nil
	}
	places := make([][]float64, len(met))
	for i, z := range met {
		places[i] = d.of(z)
	}
	g := &guide{centre: make([]float64, r)}
	for _, u := range places {
		for i, x := range u {
			g.centre[i] += x / n
		}
	}
	c := NewSymmetric(r)
	alone := float64(2 * r)
	for _, u := range places {
		v := make([]float64, r)
		for i, x := range u {
			v[i] = x - g.centre[i]
		}
		c.addOuter(1/(n+alone), v)
	}
	for i := range r {
		c[i][i] += alone / (1 + d.told[i]) / (n + alone)
	}
	var ok bool
	if g.root, ok = c.Root(); !ok {
		return nil
	}
	return g
}

// from is the squared distance of coordinates from the centre, in standard deviations of the guide.
func (g *guide) from(u []float64) float64 {
	y, sum := make([]float64, len(u)), 0.0
	for i := range u {
		y[i] = (u[i] - g.centre[i] - dot(g.root[i][:i], y[:i])) / g.root[i][i]
		sum += y[i] * y[i]
	}
	return sum
}
