package infer

import (
	"math"

	"halfwater/book"
	"halfwater/quantity"
)

// logSlope is how far pH moves per dKH at a given CO2: 1/(KH ln 10), held near the end of the buffer.
func logSlope(mean float64) float64 { return math.Log10(math.E) / math.Max(mean, 0.5) }

// pour takes litres out and pours others in, at once.
func (w *walk) pour(out float64, in []book.Poured, salts []book.SaltPoured, mixEC quantity.Conductivity) {
	total := 0.0
	for _, p := range in {
		total += float64(p.Litres)
	}
	share := math.Min(out/w.now(), 1)
	w.missing = math.Max(w.missing+out-total, math.Min(w.missing, 0))
	for slot := nitrate; slot <= chloride; slot++ {
		var b blend
		if slot == ions && mixEC > 0 {
			b = w.blendRead(in, mixEC)
		} else {
			b = w.blend(in, slot)
			b.mean += saltsIn(salts, slot) / w.box.litres
		}
		took := share * w.g.mean[slot]
		// More water held means a smaller share; litres are logged by eye, out and in with one error.
		delta := append(b.doubt, term{slot, -share}, term{held, took - b.mean})
		w.mix(slot, delta, b.mean, b.noise+square(value("litres.logged")*(b.mean-took)))
	}
	w.mixPools(share, in)
}

// blend is what poured waters bring to one slot, per litre held: the mean, what is in doubt of their
// analyses, and the variance of what is in doubt anew each time.
type blend struct {
	mean  float64
	doubt []term
	noise float64
}

func (w *walk) blend(in []book.Poured, slot int) (sum blend) {
	for _, p := range in {
		share := float64(p.Litres) / w.box.litres
		b, doubts, _ := w.source(p.Source)
		if !b.has[slot] { // it may be as the enclosure is, or quite another
			sum.mean += share * w.g.mean[slot]
			sum.noise += square(share * (0.5*w.g.mean[slot] + 0.5))
			continue
		}
		sum.mean += share * b.mean[slot]
		more, rest := doubts.terms(b, slot, share)
		sum.doubt = append(sum.doubt, more...)
		sum.noise += rest
	}
	return sum
}

// blendRead is the conductivity of a mix that was read before it was poured.
func (w *walk) blendRead(in []book.Poured, ec quantity.Conductivity) (sum blend) {
	for _, p := range in {
		sum.mean += float64(p.Litres) / w.box.litres * strength(float64(ec))
	}
	sum.noise = square(value("ec.mix") * sum.mean)
	return sum
}

// mix adds a change to a slot, and moves pH along when it is KH: at a given CO2 pH goes with its
// logarithm.
func (w *walk) mix(slot int, delta []term, plus, noise float64) {
	g := &w.g
	if slot != kh {
		g.move(slot, append(delta, term{slot, 1}), plus)
		g.shake(noise, term{slot, 1})
		return
	}
	// The mean moves by the logarithm, what is in doubt by its slope.
	mean, _, _ := g.project(delta)
	now, then := math.Max(g.mean[kh], 0.1), math.Max(g.mean[kh]+mean+plus, 0.1)
	slope, up := logSlope((now+then)/2), math.Log10(then/now)
	along := []term{{ph, 1}}
	for _, t := range delta {
		along = append(along, term{t.at, slope * t.by})
	}
	level := g.mean[ph]
	g.move(ph, along, 0)
	g.mean[ph] = level + up
	g.shake(square(0.1*up), term{ph, 1})
	g.move(kh, append(delta, term{kh, 1}), plus)
	g.shake(noise, term{kh, 1}, term{ph, slope})
}

func square(x float64) float64 { return x * x }

// mixPools dilutes total ammonia and nitrite and brings what the poured waters hold of them.
func (w *walk) mixPools(share float64, in []book.Poured) {
	tan, no2 := 0.0, 0.0
	for _, p := range in {
		b, _, _ := w.source(p.Source)
		tan += float64(p.Litres) / w.box.litres * b.tan
		no2 += float64(p.Litres) / w.box.litres * b.no2
	}
	w.tan.mix(w.at, share, tan)
	w.no2.mix(w.at, share, no2)
}
