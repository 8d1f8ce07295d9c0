package infer

import (
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/quantity"
)

// mean is what a probe read on average in a day, or in the part of it before or after a change.
type mean struct {
	when    time.Time // the middle of its readings
	at      float64   // canonical
	sd      float64   // how far the water of such a day may be from it, the bias of the probe aside
	covered float64   // share of a day
	of      int       // readings
}

// series is what one probe read, in order, each as the middle of its interval; NaN where it is far out.
type series struct {
	lines []int // index
	at    []time.Time
	x     []float64
	half  []float64 // width of the interval
	days  []span    // in order
}

// span is a part of a series: from index from up to to, in the day so many days before the last reading, after
// so many changes.
type span struct {
	from, to int
	day      int
	changes  int
	mean     float64
	centre   time.Time
}

const aDay = 24 * time.Hour

// average lets one line stand for the days of each probe. A minute tells nothing that the last minute did
// not, and a day little that the day before did not: the mean of a day has the doubt that is left when both
// are counted. Lines come and go in order; means are by the line that stands for them.
func average(lines []book.Line) ([]book.Line, map[book.ID]mean) {
	type probe struct {
		kit, place string
		of         quantity.Measurand
	}
	all := map[probe]*series{}
	var order []probe
	var knots []time.Time
	for i := range lines {
		l := &lines[i]
		switch b := l.Body.(type) {
		case book.Change, book.Dose:
			knots = append(knots, l.At)
		case book.Reading:
			if l.By != book.Probe || !(b.Lo <= b.Hi) {
				continue
			}
			k := probe{b.Kit, b.Place, b.Of}
			s := all[k]
			if s == nil {
				s = &series{}
				all[k] = s
				order = append(order, k)
			}
			s.lines, s.at = append(s.lines, i), append(s.at, l.At)
			s.x, s.half = append(s.x, (b.Lo+b.Hi)/2), append(s.half, (b.Hi-b.Lo)/2)
		}
	}
	if len(all) == 0 {
		return lines, nil
	}
	means := map[book.ID]mean{}
	drop := make([]bool, len(lines))
	stand := map[int]book.Line{}
	for _, k := range order {
		s := all[k]
		for _, i := range s.lines {
			drop[i] = true
		}
		s.cut(knots)
		s.testify(k.of, func(i int, m mean, r quantity.Range[float64]) {
			l := lines[i]
			b := l.Body.(book.Reading)
			b.Lo, b.Hi = r.Lo, r.Hi
			l.Body = b
			drop[i], stand[i], means[l.ID] = false, l, m
		})
	}
	out := lines[:0:0]
	for i := range lines {
		if drop[i] {
			continue
		}
		if l, ok := stand[i]; ok {
			out = append(out, l)
		} else {
			out = append(out, lines[i])
		}
	}
	return out, means
}

// cut divides the series at changes, which move the water at once, and into days counted back from the
// last reading.
func (s *series) cut(knots []time.Time) {
	last := s.at[len(s.at)-1]
	changes := 0
	for i, at := range s.at {
		for changes < len(knots) && !knots[changes].After(at) {
			changes++
		}
		back := int(last.Sub(at) / aDay)
		if n := len(s.days); n > 0 && s.days[n-1].day == back && s.days[n-1].changes == changes {
			s.days[n-1].to = i + 1
			continue
		}
		s.days = append(s.days, span{from: i, to: i + 1, day: back, changes: changes})
	}
	for i := range s.days {
		s.settle(&s.days[i])
	}
}

// settle finds the mean of a part without what is far out: a probe lifted from the water.
func (s *series) settle(p *span) {
	const enough = 200 // values tell the middle
	var some []float64
	for i := p.from; i < p.to; i += 1 + (p.to-p.from)/enough {
		some = append(some, s.x[i])
	}
	slices.Sort(some)
	middle := some[len(some)/2]
	for i, v := range some {
		some[i] = math.Abs(v - middle)
	}
	slices.Sort(some)
	far := 5*1.4826*some[len(some)/2] + 1e-9 // five standard deviations, were it normal
	sum, since, n := 0.0, 0.0, 0.0
	for i := p.from; i < p.to; i++ {
		v := s.x[i]
		if math.Abs(v-middle) > far+s.half[i] {
			s.x[i] = math.NaN()
			continue
		}
		sum += v
		since += float64(s.at[i].Sub(s.at[p.from]))
		n++
	}
	p.mean = sum / n
	p.centre = s.at[p.from].Add(time.Duration(since / n))
}

// within is the variance of the mean of a part by the scatter of its readings: that of the readings over how
// many of them count, k = n (1-phi)/(1+phi) when each hangs on the one before (AR(1)); k-1 where the scatter is about
// their own mean. phi is that of the whole series, corrected for the mean that was taken out (kendall1954); what
// comes again each day by the clock is left out.
func (s *series) within() func(p span) float64 {
	var lag, square0 float64
	n, parts := 0.0, 0.0
	hourly := s.clockwork()
	for _, p := range s.days {
		parts++
		before := math.NaN()
		for i := p.from; i < p.to; i++ {
			d := s.x[i] - p.mean - hourly[s.at[i].Hour()]
			if math.IsNaN(d) {
				before = d
				continue
			}
			square0 += d * d
			n++
			if !math.IsNaN(before) {
				lag += d * before
			}
			before = d
		}
	}
	phi := 0.0
	if square0 > 0 {
		phi = lag / square0
		phi += (1 + 3*phi) / (n / parts)
	}
	phi = math.Min(math.Max(phi, 0), 0.9999)
	each := square0 / math.Max(n, 1)
	return func(p span) float64 {
		return each / math.Max(float64(p.to-p.from)*(1-phi)/(1+phi)-1, 1)
	}
}

// clockwork is by how much each hour of the day differs from the day's mean, day after day: that is no scatter,
// it falls out of the mean of a whole day. Nothing of it is known before some days have passed.
func (s *series) clockwork() (hourly [24]float64) {
	const some = 4
	var n [24]float64
	days := map[int]bool{}
	for _, p := range s.days {
		days[p.day] = true
		for i := p.from; i < p.to; i++ {
			if d := s.x[i] - p.mean; !math.IsNaN(d) {
				h := s.at[i].Hour()
				hourly[h] += d
				n[h]++
			}
		}
	}
	for h := range hourly {
		if len(days) < some {
			hourly[h] = 0
		} else if n[h] > 0 {
			hourly[h] /= n[h]
		}
	}
	return hourly
}

// betweenDays is how days depart from a line through the days between two changes: variance and the correlation
// of one day with the next. False when there are too few days.
func (s *series) betweenDays() (variance, phi float64, ok bool) {
	const fortnight = 14
	var squares, lag, free, pairs, all float64
	for i := 0; i < len(s.days); {
		j := i
		for j < len(s.days) && s.days[j].changes == s.days[i].changes && s.days[i].day-s.days[j].day < fortnight {
			j++
		}
		if n := j - i; n >= 4 {
			part := s.days[i:j]
			var t, x, tt, tx float64
			for _, p := range part {
				t, x = t-float64(p.day)/float64(n), x+p.mean/float64(n)
			}
			for _, p := range part {
				d := -float64(p.day) - t
				tt += d * d
				tx += d * (p.mean - x)
			}
			before := math.NaN()
			for _, p := range part {
				d := p.mean - x - tx/tt*(-float64(p.day)-t)
				squares += d * d
				if !math.IsNaN(before) {
					lag += d * before
					pairs++
				}
				before = d
			}
			free += float64(n) - 2
			all += float64(n)
		}
		i = j
	}
	if free < 5 || pairs < 5 {
		return 0, 0, false
	}
	if squares > 0 {
		phi = lag / pairs / (squares / all)
		phi += (1 + 4*phi) / (all / (free / 2))
	}
	return squares / free, math.Min(math.Max(phi, 0), 0.9), true
}

// testify chooses the days that count and says how much.
func (s *series) testify(of quantity.Measurand, stands func(line int, m mean, r quantity.Range[float64])) {
	within := s.within()
	variance, phi, known := s.betweenDays()
	recent, stride := int(value("series.recent")), int(value("series.stride"))
	typical := 0.0
	for _, p := range s.days {
		typical += within(p) / float64(len(s.days))
	}
	if of == quantity.OfWaterTemp { // it drives the model
		stride = 1
	}
	for i, p := range s.days {
		apart := 1
		if p.day >= recent && !(of == quantity.OfEC && s.bordering(i)) { // of the days before, one in so many
			if p.day%stride != 0 {
				continue
			}
			apart = stride
		}
		own := within(p)
		if between := variance - typical; known && between > 0 { // beyond the scatter that the days have by themselves
			r := math.Pow(phi, float64(apart))
			own += between * (1 + r) / (1 - r)
		}
		half := s.half[p.to-1]
		n := float64(p.to - p.from)
		covered := s.at[p.to-1].Sub(s.at[p.from]).Hours() / 24 * (n + 1) / n
		stands(s.lines[p.to-1],
			mean{when: p.centre, at: p.mean, sd: math.Sqrt(own), covered: math.Min(covered, 1), of: p.to - p.from},
			quantity.Range[float64]{Lo: p.mean - half, Hi: p.mean + half}.Meet(of.Span()))
	}
}

// bordering reports whether a part comes before or after a change: how far conductivity jumps tells the litres.
func (s *series) bordering(i int) bool {
	here := s.days[i].changes
	return i > 0 && s.days[i-1].changes != here || i+1 < len(s.days) && s.days[i+1].changes != here
}

// average gives a reading that stands for many their doubt. What a day may be off the model's day however
// often it was read is a floor.
func (e *evidence) average(m mean, of quantity.Measurand) {
	sd := m.sd
	if e.Log {
		sd /= math.Max(m.at+e.Shift, 1e-9)
	}
	e.mean = &m
	alone := math.Hypot(math.Max(sd, dayFloor(of, e.alone())), e.alone()/math.Sqrt(float64(m.of)))
	e.swing *= math.Sqrt(1 - m.covered)
	e.SD = math.Sqrt(square(alone) + square(e.aged) + square(e.swing))
	e.Odd = 0 // what is far out was left out
}

// dayFloor is in the doubt's own unit: a logarithm where the kit errs in one.
func dayFloor(of quantity.Measurand, alone float64) float64 {
	switch of {
	case quantity.OfPH:
		return value("day.ph")
	case quantity.OfWaterTemp:
		return value("day.temp")
	case quantity.OfEC, quantity.OfTDS:
		return value("day.ec")
	case quantity.OfOxygen:
		return value("day.oxygen")
	}
	return alone
}
