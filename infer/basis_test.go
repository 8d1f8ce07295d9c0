package infer

import (
	"math"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// unstated is a nitrate card that does not say what its mg/L count.
var unstated = no3Card.On(quantity.NotStated)

// TestTheBookTellsTheBasis: the water of six changes holds 11.3 mg N/L of nitrate, which is 50 as NO3 and 11.3 as N.
// A card that shows 50 through the weeks is as NO3, one that shows 10 is as N; and the water is the same.
func TestTheBookTellsTheBasis(t *testing.T) {
	rich := enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{
		GH: water.Stated[quantity.Hardness](10), KH: water.Stated[quantity.Alkalinity](7), EC: water.Stated[quantity.Conductivity](450), NO3: water.Stated(quantity.Nitrate(11.3)),
	}}
	ask := func(shown ...string) (*question, float64) {
		n := notes{}
		n.add(day0, plain)
		n.add(day0, rich)
		n.add(day0, unstated)
		for wk, x := range shown {
			n.add(day0.AddDate(0, 0, 7*wk), book.Change{OutLitres: 70, In: []book.Poured{{Source: "tap", Litres: 70}}})
			n.read(t, day0.AddDate(0, 0, 7*wk).Add(time.Hour), unstated, x)
		}
		q := n.asked(t, day0.AddDate(0, 0, 7*len(shown)-4))
		post := q.solved(t)
		nitrate := 0.0
		for _, h := range post.Draws {
			nitrate += float64(h.End.Nitrate()) / float64(len(post.Draws))
		}
		return q, nitrate
	}
	odds := func(q *question, b quantity.Basis) float64 {
		sum, found := 0.0, math.NaN()
		for _, m := range q.bases {
			if m.Kit != unstated.Name || m.Of != quantity.OfNO3 {
				t.Errorf("odds of %+v", m)
			}
			sum += m.Odds
			if m.Basis == b {
				found = m.Odds
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("odds sum to %g: %+v", sum, q.bases)
		}
		return found
	}
	q, ion := ask("50", "50", "50", "50", "50", "50")
	if p := odds(q, quantity.AsNO3); p < 0.9 {
		t.Errorf("a card that shows 50 is as NO3 by odds of %.2f", p)
	}
	q, element := ask("10", "10", "10", "10", "10", "10")
	if p := odds(q, quantity.AsN); p < 0.8 {
		t.Errorf("a card that shows 10 is as N by odds of %.2f", p)
	}
	if math.Abs(ion-11.3) > 3 || math.Abs(element-11.3) > 3 {
		t.Errorf("nitrate %.1f and %.1f mg N/L", ion, element)
	}
	q, _ = ask("25")
	if p := odds(q, quantity.AsN); p < 0.1 || p > 0.9 {
		t.Errorf("one reading halfway settles the basis: as N by odds of %.2f", p)
	}
}

// TestTheBeliefTellsTheBasis: what is told by the search stands in the belief, and nothing when the card says it.
func TestTheBeliefTellsTheBasis(t *testing.T) {
	for _, c := range []struct {
		card  kit.Kit
		bases int
	}{{unstated, 2}, {no3Card, 0}} {
		n := notes{}
		n.add(day0, plain)
		n.add(day0, hardTap)
		n.add(day0, c.card)
		n.add(day0, khDrops)
		for wk := range 4 {
			n.read(t, day0.AddDate(0, 0, 7*wk), c.card, "25")
			n.read(t, day0.AddDate(0, 0, 7*wk), khDrops, "6")
		}
		b := n.believe(t, day0.AddDate(0, 0, 22))
		if b.Rough {
			t.Fatal("no histories were found")
		}
		sum := 0.0
		for _, m := range b.Bases {
			if m.Kit != c.card.Name || m.Of != quantity.OfNO3 {
				t.Errorf("odds of %+v", m)
			}
			sum += m.Odds
		}
		if len(b.Bases) != c.bases || c.bases > 0 && math.Abs(sum-1) > 1e-9 {
			t.Errorf("of a card that counts %q: %+v", c.card.Basis, b.Bases)
		}
	}
}

// TestALaterFactSettlesTheBasis: the leaflet is found again; what was read before counts by it.
func TestALaterFactSettlesTheBasis(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0, unstated)
	n.read(t, day0, unstated, "25")
	at := day0.AddDate(0, 0, 9)
	open := n.asked(t, at)
	if len(open.open) != 1 || len(open.open[0].readings) != 1 {
		t.Fatalf("open: %+v", open.open)
	}
	n.add(day0.AddDate(0, 0, 8), no3Card)
	q := n.asked(t, at)
	want, err := no3Card.Read("25", day0)
	if err != nil {
		t.Fatal(err)
	}
	if r := q.Readings[0]; len(q.open) != 0 || r.Lo != want.Lo || r.Hi != want.Hi {
		t.Errorf("read as %g to %g, want %v; open %+v", r.Lo, r.Hi, want.Range, q.open)
	}
	fresh := no3Card
	fresh.Lot = "b" // of another lot nothing is said
	n.lines[len(n.lines)-1].Body = fresh
	if q := n.asked(t, at); len(q.open) != 1 {
		t.Error("another lot's leaflet settled it")
	}
}

// TestManyOpenBases: four kits of open basis are tried in eight ways; ammonia, whose bases differ least, keeps its span.
func TestManyOpenBases(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	po4 := kit.Kit{Name: "phosphate card", Of: quantity.OfPO4, Form: kit.Card, Unit: "mg/L", Steps: []float64{0, 0.25, 0.5, 1, 2, 5}}
	for _, k := range []kit.Kit{tanCard, no2Card, no3Card, po4} {
		k = k.On(quantity.NotStated)
		n.add(day0, k)
		n.read(t, day0, k, "1")
	}
	q := n.asked(t, day0.AddDate(0, 0, 2))
	ways, bases := q.ways()
	if len(ways) != 8 || len(bases) != 8 || len(q.tried) != 3 {
		t.Fatalf("%d ways of %d kits", len(ways), len(q.tried))
	}
	for _, u := range q.tried {
		if u.of == quantity.OfTAN {
			t.Error("ammonia is tried before others")
		}
	}
	sum := 0.0
	for _, w := range ways {
		sum += w.Odds
		for i, r := range w.Readings {
			whole := q.Readings[i]
			if r.Lo < whole.Lo || r.Hi > whole.Hi {
				t.Errorf("reading %d: %g to %g outside %g to %g", i, r.Lo, r.Hi, whole.Lo, whole.Hi)
			}
		}
	}
	if math.Abs(sum-1) > 1e-12 {
		t.Errorf("odds sum to %g", sum)
	}
}
