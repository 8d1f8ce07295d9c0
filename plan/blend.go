package plan

import (
	"math"

	"halfwater/change"
	"halfwater/infer"
	"halfwater/quantity"
)

// wish is what the poured water should be in one measurand, and how much that weighs.
type wish struct {
	of     quantity.Measurand
	want   float64
	range_ quantity.Range[float64] // within which the pour leads to the keeping range
	weight float64                 // 1 / (what counts as a miss of one)^2
}

// wishes are what the pour should be when a share of the water is changed. A level outside its
// keeping range is brought to its edge; one inside is held where it is, well inside the range, with
// what is lost or gathered until the next change made up for (the plateau: aim + loss/x).
func (v *visit) wishes(x quantity.Share) []wish {
	var out []wish
	for _, of := range []quantity.Measurand{quantity.OfGH, quantity.OfKH, quantity.OfEC, quantity.OfWaterTemp} {
		if !v.everySource(of) {
			continue
		}
		w := wish{of: of, weight: 1 / (missOfOne[of] * missOfOne[of])}
		now, r := levelOf(v.now.Levels, of), v.rangeOf(of)
		if of == quantity.OfWaterTemp {
			if !known(now) {
				continue
			}
			t := change.NewWaterRange(v.now.Temp, v.limits.Temperature, x)
			w.range_ = quantity.Range[float64]{Lo: float64(t.Lo), Hi: float64(t.Hi)}
			if lo, hi := v.reach(of); lo < w.range_.Lo || hi > w.range_.Hi { // else any of them will do
				w.want = min(max(now, v.within(of, w.range_.Lo)), v.within(of, w.range_.Hi))
				out = append(out, w)
			}
			continue
		}
		if math.IsInf(r.Lo, -1) && math.IsInf(r.Hi, 1) {
			if of == quantity.OfEC || !known(now) {
				continue
			}
			w.want, w.range_ = now, r // nobody says what it should be: hold it
			out = append(out, w)
			continue
		}
		drift := v.drift(of) / float64(x) // what the pour must bring more, or less, than is wanted
		w.range_ = quantity.Range[float64]{Lo: r.Lo + drift, Hi: r.Hi + drift}
		w.want = max(v.aim(of, now, r)+drift, 0)
		if known(now) && beyond(of, now, r) {
			edge := min(max(now, r.Lo), r.Hi)
			w.want = v.within(of, now+(edge-now)/float64(x))
		}
		// A correction may overshoot the range of the pour; that is no gap.
		w.range_ = quantity.Range[float64]{Lo: min(w.range_.Lo, w.want), Hi: max(w.range_.Hi, w.want)}
		out = append(out, w)
	}
	return out
}

// aim is where a level is held: where it is now, but inside its range by as much as it is in doubt.
// One of which nothing is known, or whose range leaves no room, is aimed at the middle.
func (v *visit) aim(of quantity.Measurand, now float64, r quantity.Range[float64]) float64 {
	if !known(now) {
		return middle(r)
	}
	b := bandOf[float64](v, func(d *infer.Draw) float64 { x, _ := d.Of(of); return x })
	lo, hi := r.Lo+max(insetOf[of], b.Median-b.Lo), r.Hi-max(insetOf[of], b.Hi-b.Median)
	if lo > hi {
		return middle(r)
	}
	return min(max(now, lo), hi)
}

// drift is what is lost of a measurand between two changes, less what top-up gathers.
func (v *visit) drift(of quantity.Measurand) float64 {
	d := 0.0
	if of == quantity.OfKH {
		if known(v.rates.khFall) {
			d = v.rates.khFall
		}
	}
	if creep := v.creep(of); known(creep) {
		d -= creep
	}
	return d
}

// within brings a wish into what the sources can give: beyond it, further is only further.
func (v *visit) within(of quantity.Measurand, want float64) float64 {
	lo, hi := v.reach(of)
	return min(max(want, lo), hi)
}

// reach is the least and the most that the sources can give.
func (v *visit) reach(of quantity.Measurand) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, s := range v.sources {
		x := levelOf(s.mid, of)
		lo, hi = min(lo, x), max(hi, x)
	}
	return lo, hi
}

func (v *visit) everySource(of quantity.Measurand) bool {
	for _, s := range v.sources {
		if !known(levelOf(s.mid, of)) {
			return false
		}
	}
	return len(v.sources) > 0
}

// middle of a range; of one with an open end, a quarter inside the closed one.
func middle(r quantity.Range[float64]) float64 {
	switch {
	case math.IsInf(r.Hi, 1):
		return r.Lo * 1.25
	case math.IsInf(r.Lo, -1):
		return r.Hi * 0.75
	}
	return r.Middle()
}

func levelOf(l change.Levels, of quantity.Measurand) float64 {
	switch of {
	case quantity.OfGH:
		return float64(l.GH)
	case quantity.OfKH:
		return float64(l.KH)
	case quantity.OfEC:
		return float64(l.EC)
	case quantity.OfWaterTemp:
		return float64(l.Temp)
	}
	return math.NaN()
}

// blend is shares of the source waters, in their order, and what they make.
type blend struct {
	shares []float64
	mid    change.Levels
	no3    quantity.Nitrate
	doses  []float64 // g/L of each salt
}

// blended finds the shares of the source waters by bounded least squares: none below nothing,
// none above what is in store for so many litres, one in all. Salts join when the keeper has any
// and the waters alone do not do. False when the stores do not fill the pour.
func (v *visit) blended(wishes []wish, litres quantity.Litres, salts []salt, bounds ...bound) (blend, bool) {
	n, m := len(v.sources), len(salts)
	if n == 0 {
		return blend{}, false
	}
	q := quadratic{g: square(n + m), a: make([]float64, n+m), equal: 1}
	sum := halfSpace{make([]float64, n+m), 1}
	for i := range v.sources {
		sum.c[i] = 1
		q.g[i][i] += tie
	}
	q.rows = append(q.rows, sum)
	for _, w := range wishes {
		q.add(v.row(w.of, salts), w.want, w.weight)
	}
	for i, s := range v.sources {
		q.rows = append(q.rows, halfSpace{unit(n+m, i, 1), 0})
		if most := float64(s.store / litres); most < 1 {
			q.rows = append(q.rows, halfSpace{unit(n+m, i, -1), -most})
		}
	}
	for _, b := range bounds {
		row := v.row(b.of, salts)
		q.rows = append(q.rows, halfSpace{row, b.Lo}, halfSpace{scaled(row, -1), -b.Hi})
	}
	v.boundSalts(&q, salts)
	x, ok := q.solve()
	if !ok {
		return blend{}, false
	}
	for i := range x {
		x[i] = max(x[i], 0)
	}
	return v.blendOf(x[:n], x[n:], salts), true
}

// row is what each source water and salt brings of a measurand.
func (v *visit) row(of quantity.Measurand, salts []salt) []float64 {
	row := make([]float64, 0, len(v.sources)+len(salts))
	for _, s := range v.sources {
		row = append(row, levelOf(s.mid, of))
	}
	for _, s := range salts {
		row = append(row, s.brings(of))
	}
	return row
}

// bound is a range that the pour must keep in one measurand.
type bound struct {
	of quantity.Measurand
	quantity.Range[float64]
}

// blendOf is what shares of the sources and amounts of salts make.
func (v *visit) blendOf(shares, doses []float64, salts []salt) blend {
	b := blend{shares: shares, doses: doses}
	var no3 float64
	at := map[quantity.Measurand]float64{}
	for _, of := range []quantity.Measurand{quantity.OfGH, quantity.OfKH, quantity.OfEC, quantity.OfWaterTemp} {
		for i, s := range v.sources {
			if shares[i] > 0 {
				at[of] += shares[i] * levelOf(s.mid, of)
			}
		}
		for j, s := range salts {
			at[of] += doses[j] * s.brings(of)
		}
	}
	for i, s := range v.sources {
		no3 += shares[i] * float64(s.no3)
	}
	b.mid = change.Levels{
		GH: quantity.Hardness(at[quantity.OfGH]), KH: quantity.Alkalinity(at[quantity.OfKH]),
		EC: quantity.Conductivity(at[quantity.OfEC]), Temp: quantity.Celsius(at[quantity.OfWaterTemp]),
	}
	b.no3 = quantity.Nitrate(no3)
	return b
}

// add lays one row of least squares into the quadratic: weight (row'x - want)^2.
func (q *quadratic) add(row []float64, want, weight float64) {
	for i := range row {
		q.a[i] += weight * row[i] * want
		for j := range row {
			q.g[i][j] += weight * row[i] * row[j]
		}
	}
}

func square(n int) [][]float64 {
	g := make([][]float64, n)
	for i := range g {
		g[i] = make([]float64, n)
	}
	return g
}

func unit(n, i int, x float64) []float64 {
	u := make([]float64, n)
	u[i] = x
	return u
}
