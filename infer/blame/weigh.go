package blame

import (
	"cmp"
	"math"
	"slices"

	"halfwater/infer/fit"
)

// weigh gives the logarithm of the odds of each charge, by itself, against that nothing is wrong.
func (c *court) weigh() []float64 {
	out := make([]float64, len(c.charges))
	for i := range out {
		out[i] = math.Inf(-1)
	}
	fit.Watch{}.Each(len(c.families), func(k int) {
		f := &c.families[k]
		for j := c.scales.jury(f.its); j.take(); {
			for _, i := range f.charges[j.from] {
				out[i] = weightOf(&c.charges[i], j.told(&c.charges[i]))
			}
		}
	})
	return out
}

// family is groups of readings that end alike, as those of a lot from some reading on do.
type family struct {
	its     []int   // of the largest
	charges [][]int // by the place from which a group goes: those that are about it
}

// familiesOf sorts charges by what readings they are about, largest groups first.
func familiesOf(all []charge) []family {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(all[b].lines), len(all[a].lines)) })
	var out []family
	byLast := map[int][]int{}
	for _, i := range order {
		its := all[i].lines
		last := its[len(its)-1]
		at := slices.IndexFunc(byLast[last], func(k int) bool { return slices.Equal(its, out[k].its[len(out[k].its)-len(its):]) })
		if at < 0 {
			at = len(byLast[last])
			byLast[last] = append(byLast[last], len(out))
			out = append(out, family{its: its, charges: make([][]int, len(its))})
		}
		f := &out[byLast[last][at]]
		from := len(f.its) - len(its)
		f.charges[from] = append(f.charges[from], i)
	}
	return out
}
