package fit

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/lapack"
	lapack64 "gonum.org/v1/gonum/lapack/gonum"
)

// Symmetric is a symmetric matrix, by row; only the lower triangle is looked at.
type Symmetric [][]float64

// NewSymmetric is one of zeros.
func NewSymmetric(n int) Symmetric {
	out := make(Symmetric, n)
	for i := range out {
		out[i] = make([]float64, i+1)
	}
	return out
}

// Root is the lower triangular root, by row; false when the matrix is not positive definite.
func (s Symmetric) Root() (root [][]float64, ok bool) {
	root = make([][]float64, len(s))
	for i := range s {
		root[i] = make([]float64, i+1)
		for j := range i + 1 {
			x := s[i][j] - dot(root[i][:j], root[j])
			if i != j {
				root[i][j] = x / root[j][j]
				continue
			}
			if !(x > 0) {
				return nil, false
			}
			root[i][i] = math.Sqrt(x)
		}
	}
	return root, true
}

// addOuter adds w times a vector with itself.
func (s Symmetric) addOuter(w float64, x []float64) {
	for i := range s {
		for j := range s[i] {
			s[i][j] += w * x[i] * x[j]
		}
	}
}

// eigen are the eigenvalues, ascending, and the vectors that belong to them, of the part from an index on. It calls the
// routine itself, because gonum's mat brings a megabyte of others.
func (s Symmetric) eigen(first int) (values []float64, vectors [][]float64, ok bool) {
	n := len(s) - first
	if n <= 0 {
		return nil, nil, false
	}
	a := make([]float64, n*n)
	for i := range n {
		for j := range i + 1 {
			a[i*n+j] = s[first+i][first+j]
		}
	}
	values = make([]float64, n)
	work := make([]float64, 34*n)
	if !(lapack64.Implementation{}).Dsyev(lapack.EVCompute, blas.Lower, n, a, n, values, work, len(work)) {
		return nil, nil, false
	}
	vectors = make([][]float64, n)
	for k := range vectors {
		for j := range n {
			vectors[k] = append(vectors[k], a[j*n+k])
		}
	}
	return values, vectors, true
}
