package enclosure

import (
	"fmt"
	"math"

	"halfwater/quantity"
)

// LevelTest is "took out 10.0 L, the level fell from one mark to another".
type LevelTest struct {
	Litres   quantity.Litres
	From, To quantity.Millimetres // From is above To
}

// LevelTable is how much water stands in the box up to each level, the outside filter not counted,
// and how well that is known. It rises from 0 at the foot of the glass, never falls, and is inverted
// by [LevelTable.Level].
//
// The measures of the box give its form. Level tests correct how much water a millimetre holds, by a
// smooth factor over the height: a factor for the whole box (how well footprint and land are known)
// and one that wanders with the distance from the full mark (how the foot of the land slopes),
// estimated together by least squares with that prior.
type LevelTable struct {
	basin  Basin
	sum    []float64 // litres up to each millimetre
	lnSD   [][]float64
	bands  int
	height float64
	// Tests is how many level tests shaped the table; Odd are those left out, because they are more
	// than four standard deviations from what the box can hold: a slip of the pen or of the bucket.
	Tests int
	Odd   []LevelTest
}

// levelBands is into how many bands of height the correction is cut.
const levelBands = 24

// NewLevelTable makes the table of a box from its measures and any number of level tests. It refuses
// a basin with faults ([Fault]) and a level test that cannot be ([Fault], of kind "level test").
func NewLevelTable(b Basin, tests []LevelTest) (LevelTable, error) {
	if err := b.Check(); err != nil {
		return LevelTable{}, err
	}
	for _, t := range tests {
		if err := t.check(b); err != nil {
			return LevelTable{}, err
		}
	}
	t := LevelTable{basin: b, bands: levelBands, height: float64(b.Height)}
	t.sum = make([]float64, int(math.Ceil(t.height))+1)
	for z := range t.sum {
		t.sum[z] = b.drawn(min(float64(z), t.height))
	}
	t.lnSD = b.wander(t.bands)
	// The tests bear on the mean of the factor's logarithm over the water that they took; that mean
	// is by the water of each band, so a second round uses the corrected table.
	prior, drawn := t.lnSD, t.sum
	for range 2 {
		t.learn(prior, drawn, tests)
	}
	return t, nil
}

func (l LevelTest) check(b Basin) error {
	bad := func(field, is, do string) error {
		return Fault{Of: "level test", Field: field, Code: "enclosure.level-test", Is: is, Do: do}
	}
	switch {
	case !(l.Litres > 0) || math.IsInf(float64(l.Litres), 0):
		return bad("litres", fmt.Sprintf("are %g", l.Litres), "say how many litres were taken out")
	case !(l.From <= b.Height && l.To >= 0):
		return bad("marks", fmt.Sprintf("are %g and %g cm", l.From.Centimetres(), l.To.Centimetres()), fmt.Sprintf("read both from the staff, 0 to %g cm", b.Height.Centimetres()))
	case !(l.From > l.To):
		return bad("marks", fmt.Sprintf("go from %g to %g cm", l.From.Centimetres(), l.To.Centimetres()), "give the mark before first; the level must have fallen")
	}
	return nil
}

// wander is the prior covariance of the factor's logarithm over the bands of height.
func (b Basin) wander(bands int) [][]float64 {
	whole := table.Value("sides")
	drift := table.Value("wander")
	switch {
	case len(b.Profile) > 0:
		whole, drift = math.Hypot(whole, table.Value("profile sd")), table.Value("wander profile")
	case b.LandShare > 0:
		whole = math.Hypot(whole, table.Value("land share sd")/(1-float64(b.LandShare)))
		drift = table.Value("wander land")
	}
	cov := make([][]float64, bands)
	for i := range cov {
		cov[i] = make([]float64, bands)
	}
	full := float64(b.FullMark)
	away := func(i int) float64 { return (full - (float64(i)+0.5)/float64(bands)*float64(b.Height)) / full }
	for i := range bands {
		for j := i; j < bands; j++ {
			shared := 0.0
			if away(i)*away(j) > 0 {
				shared = min(math.Abs(away(i)), math.Abs(away(j)))
			}
			v := whole*whole + drift*drift*shared
			if i == j {
				v += 1e-10
			}
			cov[i][j], cov[j][i] = v, v
		}
	}
	return cov
}

// learn conditions the factor on the level tests and lays it over the drawn table.
func (t *LevelTable) learn(prior [][]float64, drawn []float64, tests []LevelTest) {
	before := LevelTable{basin: t.basin, sum: drawn, bands: t.bands, height: t.height}
	now := *t
	t.Tests, t.Odd = 0, nil
	var y, noise []float64
	var weights [][]float64
	for _, l := range tests {
		from, to := float64(l.From), float64(l.To)
		expected := before.at(from) - before.at(to)
		w := now.shares(from, to)
		v := square(table.Value("jug sd")) + 2*square(table.Value("mark sd")/(from-to))
		residual := math.Log(float64(l.Litres) / max(expected, 1e-6))
		if math.Abs(residual) > 4*math.Sqrt(quadratic(prior, w)+v) {
			t.Odd = append(t.Odd, l)
			continue
		}
		y, noise, weights = append(y, residual), append(noise, v), append(weights, w)
	}
	t.Tests = len(y)
	mean := make([]float64, t.bands)
	t.lnSD = prior
	for k, w := range weights { // one after the other: their errors have nothing in common
		t.lnSD = condition(t.lnSD, mean, w, y[k], noise[k])
	}
	t.sum = make([]float64, len(drawn))
	for z := 1; z < len(drawn); z++ {
		t.sum[z] = t.sum[z-1] + (drawn[z]-drawn[z-1])*math.Exp(t.factor(mean, float64(z)-0.5))
	}
}

// factor is the logarithm of the correction at a height, straight between the middles of the bands.
func (t *LevelTable) factor(mean []float64, z float64) float64 {
	x := z/t.height*float64(t.bands) - 0.5
	i := int(math.Floor(x))
	switch {
	case i < 0:
		return mean[0]
	case i >= t.bands-1:
		return mean[t.bands-1]
	}
	return mean[i] + (x-float64(i))*(mean[i+1]-mean[i])
}

// shares is how the water between two levels is shared among the bands; it sums to 1.
func (t *LevelTable) shares(from, to float64) []float64 {
	out := make([]float64, t.bands)
	lo, hi := min(from, to), max(from, to)
	total := t.at(hi) - t.at(lo)
	step := t.height / float64(t.bands)
	for i := range out {
		a, b := max(lo, float64(i)*step), min(hi, float64(i+1)*step)
		if b <= a {
			continue
		}
		if total > 0 {
			out[i] = (t.at(b) - t.at(a)) / total
		} else {
			out[i] = (b - a) / (hi - lo)
		}
	}
	return out
}

// at is the litres up to a level in mm; levels outside the glass count as its foot and its rim.
func (t *LevelTable) at(level float64) float64 {
	if !(level > 0) {
		return 0
	}
	last := len(t.sum) - 1
	if level >= t.height {
		return t.sum[last]
	}
	i := int(level)
	if i >= last {
		return t.sum[last]
	}
	top := min(float64(i+1), t.height)
	return t.sum[i] + (level-float64(i))/(top-float64(i))*(t.sum[i+1]-t.sum[i])
}

// Litres is the water in the box up to a level, without an outside filter.
func (t LevelTable) Litres(level quantity.Millimetres) quantity.HeldLitres {
	return quantity.HeldLitres(t.at(float64(level)))
}

// Level is the level up to which the box holds so much water, without an outside filter: the inverse
// of [LevelTable.Litres], by halving. More than the box holds gives its rim, none or less the highest
// level that is still dry.
func (t LevelTable) Level(held quantity.HeldLitres) quantity.Millimetres {
	want := max(float64(held), 0)
	if want >= t.sum[len(t.sum)-1] {
		return quantity.Millimetres(t.height)
	}
	lo, hi := 0, len(t.sum)-1 // sum[lo] <= want < sum[hi]
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; t.sum[mid] <= want {
			lo = mid
		} else {
			hi = mid
		}
	}
	top := min(float64(hi), t.height)
	return quantity.Millimetres(float64(lo) + (want-t.sum[lo])/(t.sum[hi]-t.sum[lo])*(top-float64(lo)))
}

// Fell is how many litres a fall (or rise) of the level between two readings of the staff is, each
// reading good to half a millimetre.
func (t LevelTable) Fell(from, to quantity.Millimetres) quantity.Band[quantity.Litres] {
	litres := math.Abs(t.at(float64(from)) - t.at(float64(to)))
	return lnBand[quantity.Litres](litres, t.FellSD(from, to))
}

// FellSD is the standard deviation of the logarithm of [LevelTable.Fell]: 0.06 for "+-6 %".
func (t LevelTable) FellSD(from, to quantity.Millimetres) float64 {
	a, b := float64(from), float64(to)
	if a == b {
		return 0
	}
	v := quadratic(t.lnSD, t.shares(a, b))
	litres := math.Abs(t.at(a) - t.at(b))
	if litres > 0 {
		// half a millimetre at either mark, at the litres a millimetre holds there
		v += (square(t.perMillimetre(a)) + square(t.perMillimetre(b))) * square(table.Value("mark sd")/litres)
	}
	return math.Sqrt(v)
}

func (t *LevelTable) perMillimetre(z float64) float64 { return (t.at(z+0.5) - t.at(z-0.5)) }

// MarkAfter is the level after so many litres are taken out from a level, with the doubt of the
// table. A fall below the foot of the glass ends there.
func (t LevelTable) MarkAfter(from quantity.Millimetres, out quantity.Litres) quantity.Band[quantity.Millimetres] {
	have := t.at(float64(from))
	mark := func(litres float64) quantity.Millimetres { return t.Level(quantity.HeldLitres(have - litres)) }
	median := mark(float64(out))
	sd := math.Sqrt(quadratic(t.lnSD, t.shares(float64(from), float64(median))))
	at := func(z float64) quantity.Millimetres { return mark(float64(out) * math.Exp(-z*sd)) }
	return quantity.Band[quantity.Millimetres]{Low: at(-z95), Lo: at(-z90), Median: median, Hi: at(z90), High: at(z95)}
}

// Surface is the open water surface at a level, by the litres that a millimetre holds there.
func (t LevelTable) Surface(level quantity.Millimetres) quantity.SquareMetres {
	return quantity.SquareMetres(t.perMillimetre(min(max(float64(level), 0.5), t.height-0.5)))
}

// volumeSD is the standard deviation of the logarithm of all water in the box up to a level.
func (t LevelTable) volumeSD(level float64) float64 {
	return math.Sqrt(quadratic(t.lnSD, t.shares(level, 0)))
}

// z90 and z95 are the normal quantiles of 0.90 and 0.95.
const (
	z90 = 1.2815515655446004
	z95 = 1.6448536269514722
)

func lnBand[Q quantity.Number](median, sd float64) quantity.Band[Q] {
	at := func(z float64) Q { return Q(median * math.Exp(z*sd)) }
	return quantity.Band[Q]{Low: at(-z95), Lo: at(-z90), Median: Q(median), Hi: at(z90), High: at(z95)}
}

func square(x float64) float64 { return x * x }

// condition gives the covariance of a normal after a sum of its parts, by w, was seen as y with a variance; the mean is
// moved where it stands.
func condition(cov [][]float64, mean, w []float64, y, variance float64) [][]float64 {
	with := make([]float64, len(w)) // covariance of each part with the sum
	seen := 0.0
	for i, row := range cov {
		for j, b := range w {
			with[i] += row[j] * b
		}
		seen += w[i] * mean[i]
	}
	all := quadratic(cov, w) + variance
	after := make([][]float64, len(cov))
	for i, row := range cov {
		mean[i] += with[i] / all * (y - seen)
		after[i] = make([]float64, len(row))
		for j := range row {
			after[i][j] = row[j] - with[i]*with[j]/all
		}
	}
	return after
}

func quadratic(s [][]float64, w []float64) float64 {
	sum := 0.0
	for i, a := range w {
		if a == 0 {
			continue
		}
		for j, b := range w {
			sum += a * b * s[i][j]
		}
	}
	return max(sum, 0)
}
