package fit

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// kernel holds what the readings know: rows J of effects, each times the root w of its information, and
// the triangular root of I + w J J' w / prior. With it (prior I + J'WJ)^-1 is applied without ever being
// formed (Woodbury).
type kernel struct {
	rows   [][]float64 // w J
	root   [][]float64 // lower
	per    float64     // prior precision
	weight []float64   // w
}

func kernelOf(effects [][]float64, weight []float64, prior float64) *kernel {
	m := len(effects)
	k := &kernel{rows: make([][]float64, m), root: make([][]float64, m), per: prior, weight: weight}
	for i, row := range effects {
		k.rows[i] = make([]float64, len(row))
		for j, x := range row {
			k.rows[i][j] = weight[i] * x
		}
	}
	for i := range m {
		l := make([]float64, i+1)
		for j := 0; j <= i; j++ {
			sum := dot(k.rows[i], k.rows[j]) / prior
			if i == j {
				sum++
			}
			sum -= dot(l[:j], k.root0(j, l))
			if i == j {
				l[i] = math.Sqrt(sum)
			} else {
				l[j] = sum / k.root[j][j]
			}
		}
		k.root[i] = l
	}
	return k
}

// says is what the readings say of one score by itself, beside the prior's 1.
func (k *kernel) says(j int) float64 {
	sum := 0.0
	for _, row := range k.rows {
		sum += square(row[j])
	}
	return sum
}

// root0 is the part of a row left of its diagonal; the row in the making stands in for itself.
func (k *kernel) root0(j int, making []float64) []float64 {
	if k.root[j] == nil {
		return making[:j]
	}
	return k.root[j][:j]
}

func dot(a, b []float64) float64 { return floats.Dot(a, b[:len(a)]) }

// shrink gives x - J'w (I + wJJ'w/prior)^-1 (wJx + noise)/prior. For x a slope over prior it is the
// solution of (prior I + J'WJ) y = slope; for x and noise standard normal and prior 1 it is a draw of the
// normal with that precision.
func (k *kernel) shrink(x, noise []float64) []float64 {
	m := len(k.rows)
	y := make([]float64, m)
	for i, row := range k.rows {
		y[i] = dot(row, x)
		if noise != nil {
			y[i] += noise[i]
		}
		y[i] = (y[i] - dot(k.root[i][:i], y[:i])) / k.root[i][i]
	}
	for i := m - 1; i >= 0; i-- {
		y[i] /= k.root[i][i]
		for j, l := range k.root[i][:i] {
			y[j] -= l * y[i]
		}
	}
	out := append([]float64(nil), x...)
	for i, row := range k.rows {
		by := y[i] / k.per
		for j, r := range row {
			out[j] -= by * r
		}
	}
	return out
}

// back is the way from a departure on which what is seen there, beside what the effects foretell of it, is taken back;
// base is what is seen at the mode.
func (k *kernel) back(d, base, seen []float64) []float64 {
	slope := make([]float64, len(d))
	for i, row := range k.rows {
		miss := k.weight[i]*(seen[i]-base[i]) - dot(row, d)
		for j, x := range row {
			slope[j] -= miss * x
		}
	}
	return k.shrink(slope, nil)
}

// fits is the log chance of the readings that the effects foretell of a departure, against that at the mode.
func (k *kernel) fits(d []float64) float64 {
	sum := 0.0
	for _, row := range k.rows {
		sum += square(dot(row, d))
	}
	return -sum / 2
}

func square(x float64) float64 { return x * x }

// normal is the log density of a departure under the normal with precision I + J'WJ, up to a constant.
func (k *kernel) normal(d []float64) float64 {
	sum := dot(d, d)
	for _, row := range k.rows {
		s := dot(row, d)
		sum += s * s
	}
	return -sum / 2
}

// inner is the product of two departures under I + J'WJ.
func (k *kernel) inner(a, b []float64) float64 {
	sum := dot(a, b)
	for _, row := range k.rows {
		sum += dot(row, a) * dot(row, b)
	}
	return sum
}

// halfLogDet is half the logarithm of the determinant of I + J'WJ / prior.
func (k *kernel) halfLogDet() float64 {
	sum := 0.0
	for i, row := range k.root {
		sum += math.Log(row[i])
	}
	return sum
}
