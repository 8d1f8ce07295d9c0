package infer

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/kit"
	"halfwater/quantity"
)

// probed are readings of a probe, one every so often.
func probed(of quantity.Measurand, every time.Duration, x []float64, half float64) []book.Line {
	out := make([]book.Line, 0, len(x))
	for i, v := range x {
		at := day0.Add(time.Duration(i) * every)
		out = append(out, book.Line{
			ID: book.ID(fmt.Sprintf("p%07d", i)), At: at, Recorded: at, Water: book.MainWater, By: book.Probe,
			Body: book.Reading{Of: of, Shown: fmt.Sprint(v), Unit: of.Unit(), Lo: v - half, Hi: v + half},
		})
	}
	return out
}

// ar1 is a series that hangs on itself with a correlation phi from one value to the next, stationary sd 1.
func ar1(r *rand.Rand, n int, phi float64) []float64 {
	out := make([]float64, n)
	x := r.NormFloat64()
	for i := range out {
		out[i] = x
		x = phi*x + math.Sqrt(1-phi*phi)*r.NormFloat64()
	}
	return out
}

// TestMeansKnowTheirDoubt: 60 days of a pH that wanders with a correlation time of two hours about 7, sd 0.1,
// read every ten minutes. The mean of a day is off by about 0.1 sqrt(2*2/24) = 0.041 (the limit of
// n (1-phi)/(1+phi)); what the means say of their doubt is what they are off.
func TestMeansKnowTheirDoubt(t *testing.T) {
	const every = 10 * time.Minute
	phi := math.Exp(-every.Hours() / 2)
	var off, said, n float64
	for seed := range uint64(8) {
		r := rand.New(rand.NewPCG(seed, 3))
		x := ar1(r, 60*144, phi)
		for i := range x {
			x[i] = 7 + 0.1*x[i]
		}
		_, means := average(probed(quantity.OfPH, every, x, 0.01))
		for _, m := range means {
			off += square(m.at - 7)
			said += square(m.sd)
			n++
		}
	}
	off, said = math.Sqrt(off/n), math.Sqrt(said/n)
	t.Logf("means of a day are off by %.4f, said %.4f, by the formula %.4f", off, said, 0.1*math.Sqrt(2*2./24))
	if said < 0.8*off || said > 1.4*off || math.Abs(off-0.041) > 0.01 {
		t.Errorf("means are off by %.4f, said %.4f", off, said)
	}
}

// TestAProbeDoesNotOverwhelm: beside the hours the days hang together as well (a correlation time of two days, sd
// 0.1). All means of a book together then know their common level as well as they say, not as if each were new.
func TestAProbeDoesNotOverwhelm(t *testing.T) {
	const every = time.Hour
	var off, said, naive float64
	const books = 30
	for seed := range uint64(books) {
		r := rand.New(rand.NewPCG(seed, 4))
		const days = 150
		fast, slow := ar1(r, days*24, math.Exp(-1./2)), ar1(r, days*24, math.Exp(-1./48))
		x := make([]float64, days*24)
		for i := range x {
			x[i] = 7 + 0.05*fast[i] + 0.1*slow[i]
		}
		lines, means := average(probed(quantity.OfPH, every, x, 0.01))
		if want := 7 + (days-7)/5 + 2; len(lines) > want || len(lines) != len(means) {
			t.Fatalf("%d lines stand for %d, at most %d wanted", len(lines), len(x), want)
		}
		var sum, weight float64
		for _, m := range means {
			w := 1 / square(m.sd)
			sum += w * m.at
			weight += w
		}
		off += square(sum/weight-7) / books
		said += 1 / weight / books
		naive += square(0.11) / float64(len(x)) / books
	}
	off, said, naive = math.Sqrt(off), math.Sqrt(said), math.Sqrt(naive)
	t.Logf("off by %.4f, said %.4f; readings taken one by one would say %.4f", off, said, naive)
	if said < 0.6*off || said > 2*off {
		t.Errorf("the level is off by %.4f, said %.4f", off, said)
	}
}

// TestAverage: what was far out is left out, a change divides a day, another probe keeps apart, the floor holds, and
// a probe that reads once a day is a pen.
func TestAverage(t *testing.T) {
	x := make([]float64, 3*144)
	for i := range x {
		x[i] = 7
		if i%100 == 50 {
			x[i] = 3 // lifted from the water
		}
		if i > 300 {
			x[i] += 0.4
		}
	}
	lines := probed(quantity.OfPH, 10*time.Minute, x, 0.01)
	lines = append(lines, book.Line{ID: "c", At: lines[300].At.Add(time.Minute), Body: book.Change{OutLitres: 20}})
	other := probed(quantity.OfPH, 10*time.Minute, x[:10], 0.01)
	for i := range other {
		r := other[i].Body.(book.Reading)
		r.Kit = "other probe"
		other[i].Body = r
		other[i].ID += "b"
	}
	lines = append(lines, other...)
	book.Sort(lines)
	out, means := average(lines)
	if len(out) != 6 || len(means) != 5 { // three days, one of them in two, the other probe, and the change
		t.Fatalf("%d lines, %d means", len(out), len(means))
	}
	for _, l := range out {
		m, ok := means[l.ID]
		if !ok {
			continue
		}
		r := l.Body.(book.Reading)
		want := 7.0
		if !l.At.Before(lines[0].At.Add(301 * 10 * time.Minute)) {
			want = 7.4
		}
		if math.Abs(m.at-want) > 1e-9 || math.Abs(r.Lo-want+0.01) > 1e-9 || m.when.After(l.At) {
			t.Errorf("%v: mean %.3f, want %.1f; %+v", l.At, m.at, want, r)
		}
		w := walk{means: means}
		e, ok := w.evidenceOf(l, r)
		if !ok || !e.point || e.alone() < value("day.ph") {
			t.Errorf("evidence %+v", e)
		}
		if whole := m.covered > 0.99; whole != (e.swing == 0) && m.covered < 0.9 {
			t.Errorf("covers %.2f of a day, swing %.3f", m.covered, e.swing)
		}
	}

	daily := probed(quantity.OfPH, 24*time.Hour, []float64{7, 7.1, 7, 7.1, 7}, 0.01)
	out, means = average(daily)
	w := walk{means: means}
	alone, _ := evidenceOf(w.facts, daily[4], daily[4].Body.(book.Reading))
	if e, _ := w.evidenceOf(out[4], out[4].Body.(book.Reading)); len(out) != 5 || e.SD < 0.99*alone.SD {
		t.Errorf("one reading a day: sd %.3f, of a reading %.3f", e.SD, alone.SD)
	}
}

// TestProbesInTheHistories: ten weeks of a pH, an EC and an oxygen probe are a handful of readings, in their place
// and with the bias of a pen.
func TestProbesInTheHistories(t *testing.T) {
	n := notes{by: book.Probe}
	n.add(day0, plain)
	n.add(day0, hardTap)
	probes := []kit.Kit{
		{Name: "pH probe", Of: quantity.OfPH, Form: kit.Meter, Unit: "pH", Accuracy: 0.05, Digit: 0.01, Calibrated: day0},
		{Name: "EC probe", Of: quantity.OfEC, Form: kit.Meter, Unit: "uS/cm", AccuracyShare: 0.02, Digit: 1, Calibrated: day0},
		{Name: "oxygen probe", Of: quantity.OfOxygen, Form: kit.Meter, Unit: "mg/L", AccuracyShare: 0.05, Digit: 0.1, Calibrated: day0},
	}
	for _, k := range probes {
		n.add(day0, k)
	}
	const weeks = 10
	for i := range weeks * 7 * 12 {
		at := day0.Add(time.Duration(i) * 2 * time.Hour)
		swing := math.Sin(2 * math.Pi * float64(at.Hour()) / 24)
		for j, x := range []string{fmt.Sprintf("%.2f", 7.3+0.2*swing), fmt.Sprintf("%.0f", 450+swing), fmt.Sprintf("%.1f", 7.8+swing)} {
			n.read(t, at, probes[j], x)
		}
	}
	q := n.asked(t, day0.AddDate(0, 0, 7*weeks))
	if len(q.Readings) < 3*15 || len(q.Readings) > 3*22 {
		t.Fatalf("%d readings", len(q.Readings))
	}
	for i, r := range q.Readings {
		w := q.witnesses[i]
		if !r.Point || r.Lot < 0 || w.mean == nil || r.Day > q.Course.Day(w.line.At) {
			t.Errorf("%+v", r)
		}
		if w.of == quantity.OfPH && (r.SD < value("day.ph") || r.SD > 0.12 || math.Abs((r.Lo+r.Hi)/2-7.3) > 0.05) {
			t.Errorf("pH of day %.1f: %.2f to %.2f, sd %.3f", r.Day, r.Lo, r.Hi, r.SD)
		}
	}
	if len(q.Lots) != 3 {
		t.Errorf("lots %+v", q.Lots)
	}
}

// TestWhatAProbeKeeps: of a long series every day of the last week, then one in five; of conductivity also what
// borders a change, of temperature every day.
func TestWhatAProbeKeeps(t *testing.T) {
	const days = 100
	x := make([]float64, days*24)
	for of, want := range map[quantity.Measurand]int{quantity.OfPH: 7 + 18, quantity.OfEC: 7 + 18 + 2, quantity.OfWaterTemp: days + 1} {
		for i := range x {
			x[i] = map[quantity.Measurand]float64{quantity.OfPH: 7, quantity.OfEC: 400, quantity.OfWaterTemp: 24}[of]
		}
		lines := probed(of, time.Hour, x, 0.1)
		// The change is on the 53rd day before the last, which is not among those kept.
		at := lines[len(lines)-1].At.Add(-53*24*time.Hour - 90*time.Minute)
		lines = append(lines, book.Line{ID: "c", At: at, Body: book.Change{OutLitres: 20}})
		book.Sort(lines)
		if _, means := average(lines); len(means) != want {
			t.Errorf("%s: %d means, want %d", of, len(means), want)
		}
	}
}

// BenchmarkAYearOfMinutes is the first look at a book with a year of readings, one a minute.
func BenchmarkAYearOfMinutes(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 5))
	x := ar1(r, 365*24*60, 0.99)
	for i := range x {
		x[i] = 7 + 0.1*x[i]
	}
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	lines := append(n.lines, probed(quantity.OfPH, time.Minute, x, 0.01)...)
	w := Window{Lines: lines, At: day0.AddDate(1, 0, 0), Seed: 7}
	b.ReportAllocs()
	for b.Loop() {
		if _, _, _, err := believe(w); err != nil {
			b.Fatal(err)
		}
	}
}
