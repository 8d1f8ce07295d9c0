package fit

import (
	"math"
	"slices"

	"halfwater/dynamics"
)

// Retelling is one history of a problem, to be told again with something otherwise in its course.
type Retelling struct {
	*bench
	z    []float64
	told run
	Seen []float64 // what each kit sees of the history as it is
}

// Otherwise is one thing that may have been otherwise: from a day on, and what it makes of the course up to the
// end. Do may write into the events and pieces that it is given, and add events without a number of their own
// (Change, Loss).
type Otherwise struct {
	From float64
	Do   func(*dynamics.Course)
}

// Retell makes ready to tell the history under a vector of scores again.
func (p *Problem) Retell(z []float64) *Retelling {
	r := &Retelling{bench: newBench(p), z: z}
	r.live(z, &r.told)
	r.Seen = r.asKits(z, &r.told)
	return r
}

// With gives, by thing that is otherwise, how much more each kit sees then. What was before the day is as it was
// and is not run again.
func (r *Retelling) With(ways []Otherwise) [][]float64 {
	out := make([][]float64, len(ways))
	each(len(ways), func(w int, now *run) {
		c := *r.Course
		now.course.Events = append(now.course.Events[:0], r.told.course.Events...)
		now.course.Pieces = append(now.course.Pieces[:0], c.Pieces...)
		c.Events, c.Pieces = now.course.Events, now.course.Pieces
		ways[w].Do(&c)
		now.course = c

		// From the last state that is wanted up to that day.
		k, found := slices.BinarySearch(r.outAt, math.Min(ways[w].From, r.Course.Days))
		if !found && k > 0 {
			k--
		}
		now.states = slices.Grow(now.states[:0], len(r.outAt))[:len(r.outAt)]
		now.course.Run(&r.told.params, &r.told.dev, r.told.states[k], r.Course.Days, r.outAt[k:], now.states[k:], r.Pace)
		out[w] = make([]float64, len(r.Readings))
		for i := range r.Readings {
			if r.at[i] >= k {
				out[w][i] = r.asKit(i, r.z, r.Readings[i].look(&r.told.params, &now.states[r.at[i]])) - r.Seen[i]
			}
		}
	})
	return out
}
