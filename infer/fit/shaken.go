package fit

// How the problem of a draw is solved.
const (
	corrections = 2 // at most
	still       = 1 // nats of the normal about the mode within which a place counts as the solution
	shorter     = 3 // times a step is cut, each time to a third, before a place is left as the best there is
)

// shaken is the problem of one draw: prior and readings as they are linearised at the mode, each shaken by as much as it
// is in doubt. Where it is solved, by the numbers that a run of the model gives and not by those that the effects
// foretell, there the draw lies (randomised maximum likelihood: Oliver, He and Reynolds 1996).
type shaken struct {
	*drawer
	scores, noise []float64 // the shakes, standard normal but for the lean
	straight      []float64 // the solution if the effects were everywhere those at the mode
}

func (d *drawer) shake(scores, noise []float64) shaken {
	return shaken{d, scores, noise, d.kernel.shrink(scores, noise)}
}

// should is the log chance of the readings that slope and effects at the mode foretell of the straight solution.
func (s *shaken) should() float64 {
	return s.fits + dot(s.mode.z, s.straight) + s.kernel.fits(s.straight)
}

// cost is what the solution has the least of, nats; kits is what they see of a departure.
func (s *shaken) cost(from, kits []float64) float64 {
	sum := 0.0
	for j, x := range from {
		sum += square(x - s.scores[j])
	}
	for i, x := range kits {
		sum += square(s.kernel.weight[i]*(x-s.base[i]) + s.noise[i])
	}
	return sum / 2
}

// lack is what a departure lacks to where the effects at the mode, given what the kits see there, have the solution.
func (s *shaken) lack(from, kits []float64) []float64 {
	out := s.kernel.back(from, s.base, kits)
	for j := range out {
		out[j] += s.straight[j] - from[j]
	}
	return out
}

// solve goes from a departure to the solution, which becomes the history (z and r serve for runs), by steps that what is lacked tells, and the one
// before (Anderson 1965, of depth one). A step that costs is cut. It ends when no more than enough nats are lacked, and tells
// how many are.
func (s *shaken) solve(h *History, from, z []float64, r *run, enough float64) (at []float64, left float64) {
	s.place(z, from, r)
	h.take(s.bench, z, r)
	kits := s.asKits(z, r)
	cost, lack := s.cost(from, kits), s.lack(from, kits)
	var was, lacked []float64
	for range corrections {
		left = -s.kernel.normal(lack)
		if left <= enough {
			return from, left
		}
		step := append([]float64(nil), lack...)
		if was != nil {
			gain := less(lack, lacked)
			by := s.kernel.inner(gain, lack) / s.kernel.inner(gain, gain)
			for j := range step {
				step[j] -= by * (from[j] - was[j] + gain[j])
			}
		}
		next, ok := make([]float64, len(from)), false
		for range shorter {
			for j := range next {
				next[j] = from[j] + step[j]
				step[j] /= 3
			}
			s.place(z, next, r)
			kits = s.asKits(z, r)
			if c := s.cost(next, kits); c < cost {
				cost, ok = c, true
				break
			}
		}
		if !ok {
			return from, left
		}
		h.take(s.bench, z, r)
		was, lacked = from, lack
		from, lack = next, s.lack(next, kits)
	}
	return from, -s.kernel.normal(lack)
}

func less(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for j := range a {
		out[j] = a[j] - b[j]
	}
	return out
}
