package fit

import (
	"math"
	"math/rand/v2"
)

// link is the present end of one chain.
type link struct {
	z    []float64
	run  run
	told float64 // log chance of the readings, times their weight
	rnd  *rand.Rand

	try  []float64
	next run
	runs int
}

// toldBy is the log chance of the readings alone, -Inf where there is none.
func (b *bench) toldBy(z []float64, r *run) float64 {
	w := b.weight(z, r) + dot(z, z)/2
	if math.IsNaN(w) {
		return math.Inf(-1)
	}
	return w
}

func (c *link) runAt(b *bench) float64 {
	c.runs++
	b.live(c.try, &c.next)
	return b.toldBy(c.try, &c.next)
}

// keep makes what was tried the end of the chain.
func (c *link) keep(told float64) {
	c.z, c.try = c.try, c.z
	c.run, c.next = c.next, c.run
	c.told = told
}

func (c *link) normals(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = c.rnd.NormFloat64()
	}
	return out
}

// mostTries ends a turn where it stands. That it may end so does not disturb the posterior: each way to
// another place is as likely as the way back by the same angles.
const mostTries = 40

// turn finds an angle on an ellipse whose weight is above a level drawn below the present one, by
// shrinking towards the present place (elliptical slice sampling: Murray, Adams and MacKay 2010). There is
// nothing to be tuned. It tells whether the last angle that at was asked for is taken.
func turn(rnd *rand.Rand, now float64, at func(cos, sin float64) float64) bool {
	level := now + math.Log(rnd.Float64())
	angle := 2 * math.Pi * rnd.Float64()
	lo, hi := angle-2*math.Pi, angle
	for range mostTries {
		sin, cos := math.Sincos(angle)
		if at(cos, sin) > level {
			return true
		}
		if angle < 0 {
			lo = angle
		} else {
			hi = angle
		}
		angle = lo + (hi-lo)*rnd.Float64()
	}
	return false
}

// turnAlong turns the coordinates of some informed directions, the rest staying as it is. The prior is the
// same after any rotation of the scores, so that the readings alone decide.
func (c *link) turnAlong(d *informed, which []int, weigh func() float64) bool {
	from, aim := make([]float64, len(which)), c.normals(len(which))
	for i, k := range which {
		from[i] = dot(d.rows[k], c.z)
	}
	var told float64
	ok := turn(c.rnd, c.told, func(cos, sin float64) float64 {
		copy(c.try, c.z)
		for i, k := range which {
			by := from[i]*(cos-1) + aim[i]*sin
			for j, r := range d.rows[k] {
				c.try[j] += by * r
			}
		}
		told = weigh()
		return told
	})
	if ok {
		c.told = told
	}
	return ok
}

// turnSome turns a few informed directions.
func (c *link) turnSome(b *bench, d *informed, which []int) {
	if c.turnAlong(d, which, func() float64 { return c.runAt(b) }) {
		c.keep(c.told)
	}
}

// turnAcross turns all that lies across the informed directions.
func (c *link) turnAcross(b *bench, d *informed) {
	across, aim := append([]float64(nil), c.z...), c.normals(len(c.z))
	d.across(across)
	d.across(aim)
	var told float64
	if turn(c.rnd, c.told, func(cos, sin float64) float64 {
		for j := range c.try {
			c.try[j] = c.z[j] + across[j]*(cos-1) + aim[j]*sin
		}
		told = c.runAt(b)
		return told
	}) {
		c.keep(told)
	}
}

// turnPlain turns, a few at a time, the directions of what needs no run: biases of lots and departures of
// the world, the history being held.
func (c *link) turnPlain(b *bench, d *informed) {
	each := func() float64 { return b.toldBy(c.try, &c.run) }
	for _, which := range c.groups(len(d.rows), 3) {
		if c.turnAlong(d, which, each) {
			c.z, c.try = c.try, c.z
		}
	}
	across, aim := append([]float64(nil), c.z...), c.normals(len(c.z))
	d.across(across)
	d.across(aim)
	var told float64
	if turn(c.rnd, c.told, func(cos, sin float64) float64 {
		copy(c.try, c.z)
		for j := b.runs; j < b.n; j++ {
			c.try[j] += across[j]*(cos-1) + aim[j]*sin
		}
		told = each()
		return told
	}) {
		c.z, c.try = c.try, c.z
		c.told = told
	}
}

// groups shares n out at random in groups of some size.
func (c *link) groups(n, size int) [][]int {
	order := c.rnd.Perm(n)
	var out [][]int
	for len(order) > 0 {
		k := min(size, len(order))
		out = append(out, order[:k])
		order = order[k:]
	}
	return out
}

// tails are the degrees of freedom of the guide: heavier tails than the normal, so that a chain far out
// is not held there.
const tails = 8

// turnGuided turns all scores about the guide: Student's t in the informed directions, as a normal of a width
// that is drawn anew given the present place (generalised elliptical slice sampling: Nishihara, Murray and
// Adams 2014), and the prior across them. What the posterior has beyond the guide decides.
func (c *link) turnGuided(b *bench, d *informed, g *guide) {
	r := len(d.rows)
	u := d.of(c.z)
	far := g.from(u)
	squares := 0.0
	for range r + tails {
		x := c.rnd.NormFloat64()
		squares += x * x
	}
	wide := math.Sqrt((tails + far) / squares)
	xi := c.normals(r)
	aim := make([]float64, r) // from the centre
	for i := range aim {
		aim[i] = wide * dot(g.root[i], xi)
	}
	across, other := append([]float64(nil), c.z...), c.normals(len(c.z))
	d.across(across)
	d.across(other)
	beyond := func(told float64, u []float64, far float64) float64 {
		return told - dot(u, u)/2 + (tails+float64(r))/2*math.Log1p(far/tails)
	}
	var told float64
	at := make([]float64, r)
	if turn(c.rnd, beyond(c.told, u, far), func(cos, sin float64) float64 {
		for i := range at {
			at[i] = g.centre[i] + (u[i]-g.centre[i])*cos + aim[i]*sin
		}
		for j := range c.try {
			c.try[j] = across[j]*cos + other[j]*sin
		}
		d.add(c.try, at)
		told = c.runAt(b)
		return beyond(told, at, g.from(at))
	}) {
		c.keep(told)
	}
}

// step goes by a difference of two chains of the other half in the informed directions: what they have found
// out about which unknowns go together, and a whole step from one mode to another (ter Braak 2006; that the
// prior's directions stay out keeps it useful in many dimensions: Coullon and Webber 2021). Taken by Metropolis's
// rule.
func (c *link) step(b *bench, d *informed, other []link) bool {
	r := len(d.rows)
	i := c.rnd.IntN(len(other))
	j := c.rnd.IntN(len(other) - 1)
	if j >= i {
		j++
	}
	size := 1.0
	if c.rnd.Float64() < 0.9 {
		size = 2.38 / math.Sqrt(2*float64(max(r, 1))) * math.Exp(0.5*c.rnd.NormFloat64())
	}
	from, to := d.of(other[i].z), d.of(other[j].z)
	for k := range from {
		from[k] = size * (to[k] - from[k])
	}
	copy(c.try, c.z)
	d.add(c.try, from)
	told := c.runAt(b)
	if math.Log(c.rnd.Float64()) < told-c.told-(dot(c.try, c.try)-dot(c.z, c.z))/2 {
		c.keep(told)
		return true
	}
	return false
}
