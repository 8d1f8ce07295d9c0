package infer

import (
	"math"
	"sync"
	"time"

	"halfwater/kit"
	"halfwater/quantity"
)

// pool is total ammonia or nitrite: fast, usually next to nothing, now and then a bump. It is carried
// as chances over cells of its logarithm, for each of a few levels that may be this enclosure's
// usual; a reading multiplies, a day moves every cell a part of the way back to the usual, and any
// day may bring a bump. Nothing here is normal, so nothing is taken as normal.
type pool struct {
	p    [usuals][cells]float64
	at   time.Time
	met  bool    // it was read
	bump float64 // chance of a bump that waits for the next step, from a service or a stop

	// What the last reading says by itself, where one so high was hardly to be expected: what may kill is not argued away, and a share
	// of what is believed (alarm.share) is so until the next reading.
	alarm    [cells]float64
	alarming bool
}

const (
	cells   = 44
	usuals  = 4
	lowest  = -5.2 // ln 0.0055 mg N/L
	cellLn  = 0.2  // up to ln 36
	quarter = 6 * time.Hour
)

var (
	usualLevels  = [usuals]float64{math.Log(0.01), math.Log(0.03), math.Log(0.1), math.Log(0.4)}
	usualWeights = [usuals]float64{0.3, 0.35, 0.25, 0.1}
)

func middleOf(cell int) float64 { return lowest + (float64(cell)+0.5)*cellLn }

// begin is a pool of which nothing is known: the usual of any enclosure, or anything at all, each
// tenfold as likely as the next.
func (p *pool) begin(at time.Time) {
	p.at = at
	k := kernels()
	for u := range usuals {
		for c := range cells {
			p.p[u][c] = usualWeights[u] * (0.3*k.rest[u][c] + 0.7/cells)
		}
	}
}

// kernel is where a cell goes in a span of time.
type kernel [usuals][cells][cells]float64

type kernelSet struct {
	quarter, day, week kernel
	rest               [usuals][cells]float64
	bump               [cells]float64
}

var kernels = sync.OnceValue(func() *kernelSet {
	k := &kernelSet{}
	spread, back := value("pool.spread"), value("pool.back")
	for c := range cells {
		k.bump[c] = cellChance(c, math.Log(value("pool.bump")), 1.3)
	}
	for u := range usuals {
		for c := range cells {
			k.rest[u][c] = cellChance(c, usualLevels[u], spread)
		}
		for _, s := range []struct {
			to   *kernel
			days float64
		}{{&k.quarter, 0.25}, {&k.day, 1}, {&k.week, 7}} {
			rho := math.Exp(-s.days / back)
			sd := spread * math.Sqrt(1-rho*rho)
			for c := range cells {
				middle := usualLevels[u] + rho*(middleOf(c)-usualLevels[u])
				for d := range cells {
					s.to[u][c][d] = cellChance(d, middle, sd)
				}
			}
		}
	}
	return k
})

// cellChance is the part of a normal that falls into a cell; the ends take what lies beyond.
func cellChance(c int, mean, sd float64) float64 {
	lo, hi := lowest+float64(c)*cellLn, lowest+float64(c+1)*cellLn
	a, b := 0.0, 1.0
	if c > 0 {
		a = phi((lo - mean) / sd)
	}
	if c < cells-1 {
		b = phi((hi - mean) / sd)
	}
	return b - a
}

// elapse carries the pool to a moment.
func (p *pool) elapse(to time.Time) {
	k := kernels()
	for {
		left := to.Sub(p.at)
		switch {
		case left >= 7*24*time.Hour:
			p.walk(&k.week, 7)
			p.at = p.at.Add(7 * 24 * time.Hour)
		case left >= 24*time.Hour:
			p.walk(&k.day, 1)
			p.at = p.at.Add(24 * time.Hour)
		case left >= quarter:
			p.walk(&k.quarter, 0.25)
			p.at = p.at.Add(quarter)
		default:
			return
		}
	}
}

func (p *pool) walk(k *kernel, days float64) {
	jump := math.Min(p.bump+value("pool.jump")*days, 0.5)
	p.bump = 0
	bump := &kernels().bump
	for u := range usuals {
		var next [cells]float64
		sum := 0.0
		for c, have := range p.p[u] {
			if have < 1e-12 {
				continue
			}
			sum += have
			row := &k[u][c]
			for d := range cells {
				next[d] += have * row[d]
			}
		}
		for d := range cells {
			p.p[u][d] = (1-jump)*next[d] + jump*sum*bump[d]
		}
	}
}

// mix dilutes by a share and adds a concentration.
func (p *pool) mix(at time.Time, share, plus float64) {
	if share <= 0 && plus <= 0 {
		return
	}
	p.elapse(at)
	mixed := func(cs *[cells]float64) {
		var next [cells]float64
		for c, have := range cs {
			x := math.Exp(middleOf(c))*(1-share) + plus
			at := (math.Log(math.Max(x, 1e-3))-lowest)/cellLn - 0.5
			at = math.Max(0, math.Min(at, cells-1.001))
			i := int(at)
			part := at - float64(i)
			next[i] += have * (1 - part)
			next[i+1] += have * part
		}
		*cs = next
	}
	for u := range usuals {
		mixed(&p.p[u])
	}
	mixed(&p.alarm)
}

// read takes in a reading; it gives the chances, before it, of one as low and one as high.
func (p *pool) read(s seen, of kit.Interval, at time.Time) (low, high float64) {
	p.elapse(at)
	m := s.Model
	first := !p.met
	if first { // against it nothing speaks: evenly on the card's own scale
		p.met, m.Odd = true, 0
		p.level(m.Shift)
	}
	var sum, asRead float64
	sure := m
	sure.Odd = 0
	for c := range cells {
		x := math.Exp(middleOf(c))
		like := m.ChanceNear(of, x)
		p.alarm[c] = sure.Chance(of, x) * scaled(c, m.Shift)
		asRead += p.alarm[c]
		down, up := of, of
		down.Lo, down.OpenBelow = of.Of.Span().Lo, true
		up.Hi, up.OpenAbove = of.Of.Span().Hi, true
		d, h := m.ChanceNear(down, x), m.ChanceNear(up, x)
		for u := range usuals {
			have := p.p[u][c]
			low += have * d
			high += have * h
			p.p[u][c] = have * like
			sum += p.p[u][c]
		}
	}
	p.alarming = !first && high < value("stray.high") && asRead > 0
	for c := range cells {
		p.alarm[c] /= math.Max(asRead, 1e-300)
	}
	if sum <= 0 {
		p.begin(at)
		return low, high
	}
	for u := range usuals {
		for c := range cells {
			p.p[u][c] /= sum
		}
	}
	return low, high
}

// level puts half of what is believed evenly over ln(x + shift), the scale on which a colour is told.
func (p *pool) level(shift float64) {
	whole := 0.0
	for c := range cells {
		whole += scaled(c, shift)
	}
	for u := range usuals {
		for c := range cells {
			p.p[u][c] = 0.5*p.p[u][c] + 0.5*usualWeights[u]*scaled(c, shift)/whole
		}
	}
}

// scaled is the width of a cell on the scale on which a colour is told, ln(x + shift).
func scaled(c int, shift float64) float64 {
	on := func(c int) float64 { return math.Log(math.Exp(lowest+float64(c)*cellLn) + shift) }
	return on(c+1) - on(c)
}

// draws gives values at the ranks, which lie between 0 and 1.
func (p *pool) draws(ranks []float64) []float64 {
	var cum [cells + 1]float64
	for c := range cells {
		s := 0.0
		for u := range usuals {
			s += p.p[u][c]
		}
		if p.alarming {
			share := value("alarm.share")
			s = (1-share)*s + share*p.alarm[c]
		}
		cum[c+1] = cum[c] + s
	}
	out := make([]float64, len(ranks))
	for i, r := range ranks {
		r *= cum[cells]
		lo, hi := 0, cells-1
		for lo < hi {
			mid := (lo + hi) / 2
			if cum[mid+1] < r {
				lo = mid + 1
			} else {
				hi = mid
			}
		}
		part := 0.5
		if d := cum[lo+1] - cum[lo]; d > 0 {
			part = (r - cum[lo]) / d
		}
		out[i] = math.Exp(lowest + (float64(lo)+part)*cellLn)
	}
	return out
}

// band is the band of the pool as it stands.
func (p *pool) band() quantity.Band[float64] {
	x := p.draws([]float64{0.05, 0.1, 0.5, 0.9, 0.95})
	return quantity.Band[float64]{Low: x[0], Lo: x[1], Median: x[2], Hi: x[3], High: x[4]}
}
