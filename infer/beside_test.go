package infer

import (
	"math"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/infer/fit"
	"halfwater/quantity"
	"halfwater/water"
)

var roWater = enclosure.SourceWater{Name: "RO", Analysis: water.Analysis{Kind: water.RO, EC: water.Stated(quantity.Conductivity(12))}}

// asked is a book as a problem, from its first line on.
func (n *notes) asked(t *testing.T, at time.Time) *question {
	t.Helper()
	b, v, lines, err := believe(Window{Lines: n.lines, At: at, Recorded: at, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	q, err := v.ask(lines, b.Water, v.start, at.Add(time.Minute), at)
	if err != nil {
		t.Fatal(err)
	}
	if len(q.Readings) != len(q.witnesses) {
		t.Fatalf("%d readings, %d witnesses", len(q.Readings), len(q.witnesses))
	}
	return q
}

func (q *question) solved(t *testing.T) fit.Posterior {
	t.Helper()
	post, err := q.Solve(fit.Effort{Draws: 200, Scouts: 4}, 1)
	if err != nil {
		t.Fatal(err)
	}
	return post
}

// lotOf is the score of a lot whose name begins so.
func (q *question) lotOf(t *testing.T, post *fit.Posterior, name string) (median, spread float64) {
	t.Helper()
	i, ok := q.lots[name]
	if !ok {
		t.Fatalf("no lot %q among %v", name, q.lots)
	}
	at := q.LotScore(i)
	return post.Mode[at], post.Spread[at]
}

// TestAiredGlassTellsCO2: a pen that was never calibrated says little of the water's CO2, however often it reads;
// what it shows before and after air says how far the water's CO2 is above the room's. Made: 3000 uatm in the
// water, 900 in the room.
func TestAiredGlassTellsCO2(t *testing.T) {
	pen := phPen
	pen.Calibrated = time.Time{}
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0, pen)
	n.add(day0, khDrops)
	for wk := range 4 {
		n.read(t, day0.AddDate(0, 0, 7*wk), khDrops, "7")
		n.read(t, day0.AddDate(0, 0, 7*wk).Add(5*time.Hour), pen, "7.15")
	}
	at := day0.AddDate(0, 0, 25)
	without := n.asked(t, at)
	post := without.solved(t)
	wide, was := post.Spread[dynamics.TankCO2], post.Mode[dynamics.TankCO2]

	// The same pen before and after a day of air: 0.52 pH for ln(3000/900) at 0.43 of a pH each.
	glass := book.AeratedGlass{Kit: pen.Name, Before: 7.15, After: 7.67, Hours: 24}
	n.add(day0.AddDate(0, 0, 10), glass)
	n.add(day0.AddDate(0, 0, 20), glass)
	q := n.asked(t, at)
	if got := len(q.Readings) - len(without.Readings); got != 4 {
		t.Fatalf("two glasses are %d readings", got)
	}
	post = q.solved(t)
	narrow, is := post.Spread[dynamics.TankCO2], post.Mode[dynamics.TankCO2]
	t.Logf("CO2 of the water: score %.2f with sd %.2f of the prior, before the glasses %.2f with %.2f", is, narrow, was, wide)
	if narrow > 0.85*wide {
		t.Errorf("sd of the water's CO2 %.2f of its prior with two glasses, %.2f without", narrow, wide)
	}
	if made := q.Priors[dynamics.TankCO2].Z(3e-3); math.Abs(is-made) > 2*narrow || is <= was {
		t.Errorf("CO2 at a score of %.2f, made with %.2f", is, made)
	}

	// Set aside it says nothing.
	for _, l := range n.lines {
		if _, ok := l.Body.(book.AeratedGlass); ok {
			n.add(at, book.SetAside{Line: l.ID, Reason: "tap water"})
		}
	}
	if got := len(n.asked(t, at.Add(time.Hour)).Readings); got != len(without.Readings) {
		t.Errorf("%d readings with the glasses set aside, %d without them", got, len(without.Readings))
	}
}

// TestAShortTimeOfAir: a glass that was aired for minutes has hardly changed and tells little.
func TestAShortTimeOfAir(t *testing.T) {
	see := func(hours float64) float64 {
		n := notes{}
		n.add(day0, plain)
		n.add(day0, hardTap)
		n.add(day0, phPen)
		n.add(day0.AddDate(0, 0, 3), book.AeratedGlass{Kit: phPen.Name, Before: 7.2, After: 7.6, Hours: hours})
		q := n.asked(t, day0.AddDate(0, 0, 4))
		s := q.usual
		s.PCO2 = 3e-3
		r := q.Readings[len(q.Readings)-1]
		return r.See(&s) - float64(s.PH())
	}
	short, day := see(0.1), see(24)
	if short < 0 || short > 0.1 || day < 0.4 || day > 0.6 {
		t.Errorf("pH rises by %.2f in six minutes and by %.2f in a day", short, day)
	}
}

// TestStoneJar: a stone that gave KH in a jar makes a source likelier, one that gave nothing narrows what
// may be, and neither says how much.
func TestStoneJar(t *testing.T) {
	ask := func(jars ...book.StoneJar) (middle, sd float64) {
		n := notes{}
		n.add(day0, plain)
		n.add(day0, hardTap)
		n.add(day0, khDrops)
		n.read(t, day0, khDrops, "7")
		for _, j := range jars {
			n.add(day0.AddDate(0, 0, 8), j)
		}
		q := n.asked(t, day0.AddDate(0, 0, 10))
		post := q.solved(t)
		var sum, squares float64
		for _, h := range post.Draws {
			x := h.Params[dynamics.Stone]
			sum += x / float64(len(post.Draws))
			squares += x * x / float64(len(post.Draws))
		}
		return sum, math.Sqrt(squares - sum*sum)
	}
	_, prior := ask()
	gave := book.StoneJar{What: "grey stone", Litres: 2, Days: 7, Of: quantity.OfKH, Before: 1, After: 6}
	m, sd := ask(gave)
	t.Logf("stone %.4f sd %.4f meq/L/d after a jar that gained 5 dKH, prior sd %.4f", m, sd, prior)
	if !(m > 0.002 && m < 0.02) || sd > 1.05*prior {
		t.Errorf("after a jar that gained 5 dKH: %.4f sd %.4f meq/L/d, prior sd %.4f", m, sd, prior)
	}
	none := gave
	none.After = none.Before
	m, sd = ask(none)
	if math.Abs(m) > 0.0025 || sd > 0.9*prior || sd < 0.3*prior {
		t.Errorf("after a jar that gained nothing: %.4f sd %.4f meq/L/d, prior sd %.4f", m, sd, prior)
	}
	// GH and EC of the same stone say the same: 5 dKH are 5 dGH of calcium, and some 185 uS/cm.
	byKH := saidBy(t, gave)
	for _, other := range []book.StoneJar{
		{What: "grey stone", Litres: 2, Days: 7, Of: quantity.OfGH, Before: 1, After: 6},
		{What: "grey stone", Litres: 2, Days: 7, Of: quantity.OfEC, Before: 10, After: 195},
	} {
		if got := saidBy(t, other); math.Abs(got/byKH-1) > 0.02 {
			t.Errorf("by %s %.5f meq/L/d, by KH %.5f", other.Of, got, byKH)
		}
	}
}

// saidBy is what one jar is taken to say of the enclosure.
func saidBy(t *testing.T, j book.StoneJar) float64 {
	t.Helper()
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0.AddDate(0, 0, 8), j)
	q := n.asked(t, day0.AddDate(0, 0, 10))
	return q.Readings[len(q.Readings)-1].Lo
}

// TestKnownSample: a standard of 5.6 mg N/L (25 mg/L as NO3) that a card shows as 50 says that the lot reads high,
// and as 10 that it reads low; the truth of the water moves the other way. Another lot is not touched.
func TestKnownSample(t *testing.T) {
	ask := func(shown string) (bias, sd, nitrate float64) {
		n := notes{}
		n.add(day0, plain)
		n.add(day0, hardTap)
		n.add(day0, no3Card)
		for wk := range 3 {
			n.read(t, day0.AddDate(0, 0, 7*wk), no3Card, "25")
		}
		if shown != "" {
			for range 3 {
				n.add(day0.AddDate(0, 0, 10), book.KnownSample{What: "standard", Kit: no3Card.Name, Of: quantity.OfNO3, Value: 5.65, Within: 0.1, Shown: shown})
			}
		}
		q := n.asked(t, day0.AddDate(0, 0, 16))
		post := q.solved(t)
		bias, sd = q.lotOf(t, &post, "nitrate card|no3|a")
		for _, h := range post.Draws {
			nitrate += float64(h.End.Nitrate()) / float64(len(post.Draws))
		}
		return bias, sd, nitrate
	}
	_, open, truth := ask("")
	high, sd, less := ask("50")
	low, _, more := ask("10")
	t.Logf("bias %.2f (sd %.2f, %.2f without a standard) and %.2f; nitrate %.1f, %.1f and %.1f mg N/L", high, sd, open, low, less, truth, more)
	if !(high > 0.4 && low < -0.4 && sd < open) {
		t.Errorf("bias %.2f by a standard shown high, %.2f by one shown low; sd %.2f, without %.2f", high, low, sd, open)
	}
	if !(less < truth && truth < more) {
		t.Errorf("nitrate %.1f, %.1f and %.1f mg N/L", less, truth, more)
	}
}

// TestABlank: an ammonia card that shows 0.5 in RO reads high; one that shows 0 says that the lot is well.
func TestABlank(t *testing.T) {
	ask := func(shown string) (bias, sd float64) {
		n := notes{}
		n.add(day0, plain)
		n.add(day0, hardTap)
		n.add(day0, roWater)
		n.add(day0, tanCard)
		n.read(t, day0, tanCard, "0.5")
		if shown != "" {
			iv, err := tanCard.Read(shown, day0)
			if err != nil {
				t.Fatal(err)
			}
			for d := range 3 {
				n.add(day0.AddDate(0, 0, 3+d), book.Reading{Of: tanCard.Of, Kit: tanCard.Name, Shown: shown, Unit: tanCard.Unit, Basis: tanCard.Basis, Lo: iv.Lo, Hi: iv.Hi, Place: "RO"})
			}
		}
		q := n.asked(t, day0.AddDate(0, 0, 10))
		post := q.solved(t)
		return q.lotOf(t, &post, "ammonia card|tan|a")
	}
	open, was := ask("")
	high, _ := ask("0.5")
	well, sd := ask("0")
	if !(high > open+0.3 && well < open+0.05 && sd <= was+0.05) {
		t.Errorf("bias %.2f (sd %.2f) without a blank, %.2f by one that showed 0.5, %.2f (sd %.2f) by one that showed 0", open, was, high, well, sd)
	}
}

// TestReadingOfTheTap: KH read in the tap is held against its analysis: it moves the tap and the lot, each as far
// as it is in doubt, and no reading of the tap is taken for the enclosure.
func TestReadingOfTheTap(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0, khDrops)
	n.read(t, day0, khDrops, "7")
	n.add(day0.AddDate(0, 0, 7), book.Change{OutLitres: 20, In: []book.Poured{{Source: "tap", Litres: 20}}})
	at := day0.AddDate(0, 0, 9)
	before := n.asked(t, at)
	stated := float64(hardTap.Analysis.KH.Value)
	n.add(day0.AddDate(0, 0, 8), book.Reading{Of: quantity.OfKH, Kit: khDrops.Name, Shown: "12", Unit: "dKH", Lo: stated + 2, Hi: stated + 3, Place: "tap"})
	q := n.asked(t, at)
	if len(q.Readings) != len(before.Readings)+1 {
		t.Fatalf("%d readings, %d before", len(q.Readings), len(before.Readings))
	}
	r := q.Readings[len(q.Readings)-1]
	s := q.usual
	if got := r.See(&s); math.Abs(got-stated) > 1e-9 || r.Wander >= 0 || len(r.Slanted) != 2 {
		t.Errorf("held against %.2f, analysis %.2f; wander %d, %d doubts", got, stated, r.Wander, len(r.Slanted))
	}
	post := q.solved(t)
	all := post.Mode[q.SlantScore(q.slanted("tap: all"))]
	bias, _ := q.lotOf(t, &post, "KH drops|kh|a")
	if !(all > 0.2 && bias > 0) {
		t.Errorf("read 2.5 dKH above its analysis the tap moved by %.2f sd and the lot by %.2f", all, bias)
	}
	if kit, ok := book.FactsAt(n.lines, book.MainWater, at, at).Kit(khDrops.Name); !ok || kit.Lot != "a" {
		t.Fatal("the drops of the test have another lot")
	}
}

// TestReadingsOfOneHour: what the water does in an hour three pens see alike, and a second reading does not count as
// one of another day.
func TestReadingsOfOneHour(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0, phPen)
	for _, after := range []time.Duration{0, 10 * time.Minute, 30 * time.Minute, 48 * time.Hour} {
		n.read(t, day0.Add(after), phPen, "7.2")
	}
	n.add(day0.Add(time.Hour), book.AeratedGlass{Kit: phPen.Name, Before: 7.2, After: 7.5, Hours: 24})
	q := n.asked(t, day0.AddDate(0, 0, 4))
	swing, own := value("wander.ph_hour"), value("ph.scatter")
	shared := -1
	for i, r := range q.Readings {
		w := q.witnesses[i]
		if w.of != quantity.OfPH {
			continue
		}
		if w.line.At.Sub(day0) > 24*time.Hour {
			if len(r.Also) != 0 || math.Abs(r.SD-math.Hypot(own, swing)) > 1e-9 {
				t.Errorf("a reading alone: sd %.3f, shares %v", r.SD, r.Also)
			}
			continue
		}
		if len(r.Also) != 1 || math.Abs(r.SD-own) > 1e-9 || q.Lots[r.Also[0].Of].SD != swing || shared >= 0 && r.Also[0].Of != shared {
			t.Errorf("reading %d of the hour: sd %.3f, shares %v", i, r.SD, r.Also)
			continue
		}
		shared = r.Also[0].Of
	}
	if shared < 0 {
		t.Error("nothing is shared")
	}
}

// TestSetAsideStaysOut of the histories too, and a sitter's reading weighs less there than the keeper's.
func TestSetAsideStaysOut(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0, khDrops)
	n.read(t, day0, khDrops, "7")
	id := n.read(t, day0.AddDate(0, 0, 3), khDrops, "12")
	n.by = book.Sitter
	n.read(t, day0.AddDate(0, 0, 5), khDrops, "7")
	at := day0.AddDate(0, 0, 6)
	q := n.asked(t, at)
	if len(q.Readings) != 3 {
		t.Fatalf("%d readings", len(q.Readings))
	}
	_, _, keeper := q.Readings[0].Weigh(6.5)
	_, _, sitter := q.Readings[2].Weigh(6.5)
	if !(sitter < 0.8*keeper) || q.Readings[2].Odd <= q.Readings[0].Odd {
		t.Errorf("a sitter's count tells %.2f, the keeper's %.2f", sitter, keeper)
	}
	n.add(at, book.SetAside{Line: id, Reason: "another jar"})
	q = n.asked(t, at.Add(time.Hour))
	for _, w := range q.witnesses {
		if w.line.ID == id {
			t.Error("a reading that is set aside is evidence")
		}
	}
	if len(q.Readings) != 2 {
		t.Errorf("%d readings", len(q.Readings))
	}
}

// TestOldLotsErrAlike: what a lot past its date is off it is off each time, and more with time; the scatter of its
// readings is that of a fresh one. So with a conductivity pen since its calibration.
func TestOldLotsErrAlike(t *testing.T) {
	card := no3Card
	card.UseBy = day0.AddDate(0, 0, 9)
	pen := ecPen
	pen.Calibrated = day0
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0, card)
	n.add(day0, pen)
	for d := range 9 {
		n.read(t, day0.AddDate(0, 0, 5*d), card, "25")
		n.read(t, day0.AddDate(0, 0, 5*d), pen, "450")
	}
	q := n.asked(t, day0.AddDate(0, 0, 50))
	var sd float64
	old := 0
	for i, r := range q.Readings {
		w := q.witnesses[i]
		if w.of == quantity.OfEC {
			if l := q.Lots[r.Lot]; l.Walk <= 0 || math.Abs(l.From-30) > 1e-6 || w.drift == 0 && w.line.At.Sub(day0) > 40*24*time.Hour {
				t.Errorf("the pen's bias: %+v, drift %.4f", l, w.drift)
			}
			continue
		}
		past := !w.line.At.Before(card.GoodUntil())
		if sd == 0 {
			sd = r.SD
		}
		if math.Abs(r.SD-sd) > 1e-9 {
			t.Errorf("scatter %.3f, fresh %.3f", r.SD, sd)
		}
		if past != (len(r.Also) == 1) {
			t.Errorf("past its date %v, shares %v", past, r.Also)
		}
		if past {
			old++
			if l := q.Lots[r.Also[0].Of]; math.Abs(l.SD-0.25) > 1e-9 || l.Walk <= 0 {
				t.Errorf("the lot's own: %+v", l)
			}
		}
	}
	if old != 7 {
		t.Errorf("%d readings past the date", old)
	}
	never := ecPen
	never.Calibrated = time.Time{}
	if a, b := lotSD(fresh(never, day0).Error(day0), quantity.OfEC, true), lotSD(fresh(pen, day0).Error(day0), quantity.OfEC, true); a != b {
		t.Errorf("fresh pens: %.4f, %.4f", a, b)
	}
}
