package plan

import (
	"math"
	"sort"

	"halfwater/enclosure"
	"halfwater/quantity"
)

// halves is a volume in half litres: what a bucket's scale can be read to.
func halves(l quantity.Litres) int { return int(math.Round(float64(l) * 2)) }

// toHalves cuts a total of half litres by shares, none above its most (in litres), and the sum is
// right: each gets its floor, the largest rests get one more.
func toHalves(total int, shares []float64, most []quantity.Litres) []int {
	out := make([]int, len(shares))
	rest := make([]float64, len(shares))
	order := make([]int, len(shares))
	left := total
	cap := func(i int) int {
		if m := float64(most[i]) * 2; m < float64(total) {
			return int(m + 1e-9)
		}
		return total
	}
	for i, s := range shares {
		exact := s * float64(total)
		out[i] = min(int(exact+1e-9), cap(i))
		rest[i] = exact - float64(out[i])
		order[i] = i
		left -= out[i]
	}
	sort.SliceStable(order, func(a, b int) bool { return rest[order[a]] > rest[order[b]] })
	for _, wanted := range []bool{true, false} { // first those that are wanted at all
		for gave := true; left > 0 && gave; {
			gave = false
			for _, i := range order {
				if left > 0 && (shares[i] > 0) == wanted && out[i] < cap(i) {
					out[i]++
					left--
					gave = true
				}
			}
		}
	}
	return out
}

// fills divides parts among fillings of the keeper's vessels: as few as can be carried, as equal as
// half litres allow, each in about the proportion of the whole, and the sums right.
func fills(parts []Part, vessels []enclosure.Vessel) []VesselFill {
	total := 0
	for _, p := range parts {
		total += halves(p.Litres)
	}
	v, ok := vesselFor(total, vessels)
	if !ok || total == 0 {
		return nil
	}
	brim := inHalves(v)
	n := (total + brim - 1) / brim
	out := make([]VesselFill, n)
	size := make([]int, n) // of each filling: the total, evenly
	for k := range out {
		out[k] = VesselFill{Vessel: v.Name, Brim: v.Litres}
		size[k] = (k+1)*total/n - k*total/n
	}
	// Each filling takes of each part what the running sum is short of its proportion: the parts
	// stay in proportion all along and come out even at the end.
	given := make([]int, len(parts))
	poured := 0
	for k := range out {
		poured += size[k]
		take := shortfall(parts, given, poured, total, size[k])
		for i, p := range parts {
			given[i] += take[i]
			if take[i] > 0 {
				l := quantity.Litres(float64(take[i]) / 2)
				out[k].Parts = append(out[k].Parts, Part{p.Source, l, quantity.Share(float64(take[i]) / float64(size[k]))})
			}
		}
	}
	return out
}

// shortfall is what a filling takes of each part, in half litres, size in all.
func shortfall(parts []Part, given []int, poured, total, size int) []int {
	take := make([]int, len(parts))
	want := make([]float64, len(parts))
	left := size
	for i, p := range parts {
		want[i] = float64(halves(p.Litres))*float64(poured)/float64(total) - float64(given[i])
		take[i] = max(int(math.Floor(want[i]+1e-9)), 0)
		left -= take[i]
	}
	for left != 0 {
		best, gap := -1, math.Inf(-1)
		for i, p := range parts {
			g := want[i] - float64(take[i])
			if left < 0 {
				g = -g
			}
			if left > 0 && given[i]+take[i] >= halves(p.Litres) || left < 0 && take[i] == 0 {
				continue
			}
			if g > gap {
				best, gap = i, g
			}
		}
		if best < 0 {
			return take
		}
		if left > 0 {
			take[best]++
			left--
		} else {
			take[best]--
			left++
		}
	}
	return take
}

// vesselFor is the vessel that needs the fewest fillings; of equals the smaller.
func vesselFor(total int, vessels []enclosure.Vessel) (enclosure.Vessel, bool) {
	var best enclosure.Vessel
	fewest, ok := 0, false
	for _, v := range vessels {
		brim := inHalves(v)
		if brim < 1 || v.Count < 0 {
			continue
		}
		n := (total + brim - 1) / brim
		if !ok || n < fewest || n == fewest && v.Litres < best.Litres {
			best, fewest, ok = v, n, true
		}
	}
	return best, ok
}

// inHalves is how many half litres a vessel is filled with at most.
func inHalves(v enclosure.Vessel) int { return int(float64(min(v.Litres, carried))*2 + 1e-9) }
