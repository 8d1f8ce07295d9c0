package fit

import "halfwater/dynamics"

// Share is a part that a reading has in what others share with it: By times a bias of Problem.Lots, or By
// times a doubt of Problem.Slants, as the kit sees.
type Share struct {
	Of int // index
	By float64
}

// look is what the reading is about: a number of the state, or with Own one that hangs on the enclosure's
// own constants as well.
func (r *Reading) look(p *dynamics.Params, s *dynamics.State) float64 {
	if r.Own != nil {
		return r.Own(p, s)
	}
	return r.See(s)
}

// shared is what a reading has from all that it shares.
func (b *bench) shared(r *Reading, z []float64) float64 {
	g := 0.0
	if r.Lot >= 0 {
		g += b.bias(z, r.Lot, r.Day)
	}
	for _, s := range r.Also {
		g += s.By * b.bias(z, s.Of, r.Day)
	}
	for _, s := range r.Slanted {
		g += s.By * z[b.slants+s.Of]
	}
	return g
}

// share adds the effects of all that a reading shares. Those of a doubt about a source by way of the water
// that was poured are there already.
func (b *bench) share(r *Reading, z, effect []float64) {
	b.shareLots(r, z, effect)
	for _, s := range r.Slanted {
		effect[b.slants+s.Of] += s.By
	}
}

func (b *bench) shareLots(r *Reading, z, effect []float64) {
	if r.Lot >= 0 {
		b.shareLot(r.Lot, 1, r.Day, z, effect)
	}
	for _, s := range r.Also {
		b.shareLot(s.Of, s.By, r.Day, z, effect)
	}
}

func (b *bench) shareLot(lot int, by, day float64, z, effect []float64) {
	l := &b.Lots[lot]
	last := min(int(day/fortnight), b.fortnights-1)
	_, slope := l.at(z[b.lots+lot])
	effect[b.lots+lot] += by * slope
	for k := l.firstStep(); l.Walk > 0 && k <= last; k++ {
		effect[b.drifts[lot]+k] += by * l.Walk
	}
}

// LotScore is where the bias of a lot stands in a vector of scores.
func (p *Problem) LotScore(lot int) int { return p.layout().lots + lot }

// SlantScore is where a doubt about a source stands in a vector of scores.
func (p *Problem) SlantScore(slant int) int { return p.layout().slants + slant }
