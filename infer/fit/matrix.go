package fit

import "math"

// square is a symmetric matrix; after root, its lower triangular root.
type square struct {
	n int
	x []float64
}

func newSquare(n int) *square { return &square{n, make([]float64, n*n)} }

func (s *square) at(i, j int) float64 { return s.x[i*s.n+j] }

func (s *square) set(i, j int, v float64) { s.x[i*s.n+j], s.x[j*s.n+i] = v, v }

// damped is the matrix with a share more on its diagonal (Levenberg and Marquardt).
func (s *square) damped(by float64) *square {
	d := &square{s.n, append([]float64(nil), s.x...)}
	for i := range s.n {
		d.x[i*s.n+i] *= 1 + by
	}
	return d
}

// root is the lower triangular root; false when the matrix is not positive definite.
func (s *square) root() (*square, bool) {
	l := newSquare(s.n)
	for i := range s.n {
		row := l.x[i*s.n : i*s.n+i+1]
		for j := 0; j <= i; j++ {
			other := l.x[j*s.n : j*s.n+j+1]
			sum := s.x[i*s.n+j]
			for k := range j {
				sum -= row[k] * other[k]
			}
			switch {
			case i != j:
				row[j] = sum / other[j]
			case !(sum > 0):
				return nil, false
			default:
				row[i] = math.Sqrt(sum)
			}
		}
	}
	return l, true
}

// solve finds x with s x = y.
func (s *square) solve(y []float64) ([]float64, bool) {
	l, ok := s.root()
	if !ok {
		return nil, false
	}
	return l.back(l.forth(y)), true
}

// forth solves L x = y, back solves L' x = y, for a lower triangular root.
func (s *square) forth(y []float64) []float64 {
	x := make([]float64, s.n)
	for i := range s.n {
		sum := y[i]
		for k := range i {
			sum -= s.x[i*s.n+k] * x[k]
		}
		x[i] = sum / s.x[i*s.n+i]
	}
	return x
}

func (s *square) back(y []float64) []float64 {
	x := append([]float64(nil), y...)
	for i := s.n - 1; i >= 0; i-- {
		x[i] /= s.x[i*s.n+i]
		for k := range i {
			x[k] -= s.x[i*s.n+k] * x[i]
		}
	}
	return x
}
