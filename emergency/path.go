package emergency

import (
	"math"

	"halfwater/change"
	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

// The stepped path: at most a tenth a day, at most three weeks of it. Judgement.
const (
	pathShare quantity.Share = 0.1
	pathDays                 = 21
	pathLeast quantity.Share = 0.02 // smaller steps lead nowhere
)

// hardShares are how much of a harder water a day's blend may hold.
var hardShares = []float64{0, 0.05, 0.1, 0.2, 0.35, 0.5, 1}

// path is the way out: each day the largest change, of the softest water and any other, that does not
// harm, keeps every step of the day and never leaves more free ammonia than the
// water left alone would come to, until the total ammonia is low enough for other water. Between
// days the water goes back to its own CO2. What the animals add meanwhile is not known and not in it:
// read again before each step.
func (n Now) path(w change.Carbonated, own, later quantity.Atm, sources []source, b box, lines husbandry.Lines) []PathStep {
	if len(sources) == 0 {
		return nil
	}
	soft := sources[0]
	for _, s := range sources[1:] {
		if s.softer < soft.softer {
			soft = s
		}
	}
	start, err1 := water.Closed(w.Composition, w.DIC)
	left, err2 := water.Open(w.Composition, later)
	if err1 != nil || err2 != nil {
		return nil
	}
	most := change.Tolerated * max(stateOf(start, lines).Free, stateOf(left, lines).Free)
	var out []PathStep
	for day := 1; day <= pathDays; day++ {
		if tan := float64(w.Composition.TAN) * water.MolarN; tan <= constants.Value("low-ammonia") {
			return out
		}
		step, next, ok := n.bestStep(w, own, later, most, soft, sources, b, lines)
		if !ok {
			return nil
		}
		step.Day = day
		out, w = append(out, step), next
	}
	return out
}

// bestStep is the largest step of one day that does not harm; of equal ones the one that moves the EC
// least, so that the softest water does not take out the last of the KH for nothing.
func (n Now) bestStep(w change.Carbonated, own, later quantity.Atm, most quantity.FreeAmmonia, soft source, sources []source, b box, lines husbandry.Lines) (best PathStep, next change.Carbonated, found bool) {
	before, err := water.Closed(w.Composition, w.DIC)
	if err != nil {
		return best, next, false
	}
	now := before.EC25()
	moved := func(s State) float64 { return math.Abs(float64(s.EC - now)) }
	for _, other := range sources {
		for _, hard := range hardShares {
			if other.name == soft.name && hard > 0 {
				break
			}
			pour, ok := blended(soft, other, hard)
			if !ok {
				continue
			}
			s, err := water.Closed(pour.Composition, pour.DIC)
			if err != nil {
				continue
			}
			share, _ := change.GreatestShare(levels(before), levels(s), n.ranges().Steps)
			share = min(share, pathShare)
			if share < pathLeast || found && share < best.Share {
				continue
			}
			m, err := change.Mix(w, pour, share, later)
			if err != nil || m.Harms(lines) {
				continue
			}
			mixed, err := water.Blend(parts(w, pour, share))
			if err != nil {
				continue
			}
			worse, ok := worst(mixed, later, lines)
			if !ok || worse.Free > most || found && share == best.Share && moved(worse) >= moved(best.After) {
				continue
			}
			rest, err := mixed.Open(own)
			if err != nil {
				continue
			}
			litres := quantity.Litres(float64(share) * b.held.mid)
			best = PathStep{Litres: litres, Share: share, Parts: partsOf(soft, other, hard, litres), After: worse}
			next, found = carbonated(rest), true
		}
	}
	return best, next, found
}

// blended is a soft water with a share of another in it.
func blended(soft, other source, hard float64) (change.Carbonated, bool) {
	m, err := water.Blend(parts(soft.carbon, other.carbon, quantity.Share(hard)))
	return change.Carbonated{Composition: m.Composition, DIC: m.DIC}, err == nil
}

func partsOf(soft, other source, hard float64, litres quantity.Litres) []Part {
	var out []Part
	if hard < 1 {
		out = append(out, Part{soft.name, litres * quantity.Litres(1-hard)})
	}
	if hard > 0 {
		out = append(out, Part{other.name, litres * quantity.Litres(hard)})
	}
	return out
}

// worst is the state with more free ammonia, at mixing or within 48 h.
func worst(m water.Mixed, later quantity.Atm, lines husbandry.Lines) (State, bool) {
	closed, err1 := m.Closed()
	open, err2 := m.Open(later)
	if err1 != nil || err2 != nil {
		return State{}, false
	}
	a, b := stateOf(closed, lines), stateOf(open, lines)
	if b.Free > a.Free {
		a = b
	}
	return a, true
}
