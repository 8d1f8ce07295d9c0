package fit

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// dice are the standard normal numbers behind draws, a number for each score and for the noise of each reading.
//
// Those of the first try are the middles of equally likely slices of the normal, in an order of its own for each
// number (a Latin hypercube: McKay, Beckman and Conover 1979): few draws, and yet every margin is whole, so
// that what is near a sum of scores has hardly any error of sampling in its mean. An order hangs on the seed, on the name of the
// family of scores and on the place in it: when the book gains a line, draws stay nearly what they were.
type dice struct {
	seed          uint64
	scores, noise [][]float64 // by number, by draw
}

func cast(draws, scores int, families parts, readings int, seed uint64) dice {
	d := dice{seed, make([][]float64, scores), make([][]float64, readings)}
	slices := make([]float64, draws)
	for i := range slices {
		slices[i] = math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/float64(draws)-1)
	}
	fill := func(name string, out [][]float64) {
		h := fnv.New64a()
		h.Write([]byte(name))
		for i := range out {
			own := append([]float64(nil), slices...)
			rand.New(rand.NewPCG(seed^h.Sum64(), uint64(i))).Shuffle(draws, func(a, b int) { own[a], own[b] = own[b], own[a] })
			out[i] = own
		}
	}
	for name, f := range families {
		fill(name, d.scores[f.at:f.at+f.n])
	}
	fill("readings", d.noise)
	return d
}

// throw fills in the numbers of one try of one draw; those of later tries have no order.
func (d dice) throw(draw, try int, scores, noise []float64) {
	if try > 0 {
		r := rand.New(rand.NewPCG(d.seed, 1<<34+uint64(draw)<<8+uint64(try)))
		for i := range scores {
			scores[i] = r.NormFloat64()
		}
		for i := range noise {
			noise[i] = r.NormFloat64()
		}
		return
	}
	for i := range scores {
		scores[i] = d.scores[i][draw]
	}
	for i := range noise {
		noise[i] = d.noise[i][draw]
	}
}
