package enclosure

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
)

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

// drawTrue is a box whose factor truly is a draw of the table's prior.
func drawTrue(prior LevelTable, r *rand.Rand) LevelTable {
	cov := mat.NewSymDense(prior.bands, nil)
	for i, row := range prior.lnSD {
		for j, x := range row[:i+1] {
			cov.SetSym(i, j, x)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(cov) {
		panic("the prior covariance is not positive definite")
	}
	var l mat.TriDense
	chol.LTo(&l)
	z := mat.NewVecDense(prior.bands, nil)
	for i := range prior.bands {
		z.SetVec(i, r.NormFloat64())
	}
	var s mat.VecDense
	s.MulVec(&l, z)
	out := prior
	out.sum = make([]float64, len(prior.sum))
	for i := 1; i < len(out.sum); i++ {
		out.sum[i] = out.sum[i-1] + (prior.sum[i]-prior.sum[i-1])*math.Exp(prior.factor(s.RawVector().Data, float64(i)-0.5))
	}
	return out
}
