package load

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/book"
	"halfwater/cite"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/internal/published"
	"halfwater/quantity"
)

// The values of sections S05 and S06 that bear on loads. Those marked self-computed pin an equation and
// prove nothing; the independent ones are stoichiometry and formulas.
func TestPublishedValues(t *testing.T) {
	published.Check(t, "S05-001", float64(OxygenForNitrate(1000))) // g O2 per g N
	published.Check(t, "S05-002", float64(OxygenForNitrite(1000)))
	published.Check(t, "S05-003", KHFromAmmonium(1).CaCO3()) // mg CaCO3 per mg N
	published.Check(t, "S05-004", float64(KHFromAmmonium(1)))
	published.Check(t, "S05-005", float64(KHFromAmmonium(quantity.TotalAmmonia(quantity.NitrateAsNO3(20)))))
	published.Check(t, "S06-001", float64(FeedTAN(1, 0.45)))
	published.Check(t, "S06-002", table.Value("feed.tan_per_protein"))
	published.Check(t, "S06-003", float64(FeedNitrogen(1, 0.45)))
}

func TestAlkalinityOfAMilligram(t *testing.T) {
	// 1 eq per mol net from feed, 2 from ammonium: 0.20 to 0.40 dKH per mg N/L; a keeper's rule of
	// 10 mg NO3/L for 0.45 to 0.90 dKH.
	r := KHPerNitrate()
	if math.Abs(float64(r.Lo)-0.2002) > 1e-3 || math.Abs(float64(r.Hi)-0.4004) > 1e-3 {
		t.Errorf("%.4f to %.4f dKH per mg N/L", r.Lo, r.Hi)
	}
	n := float64(quantity.NitrateAsNO3(10))
	if lo, hi := n*float64(r.Lo), n*float64(r.Hi); math.Abs(lo-0.45) > 0.005 || math.Abs(hi-0.90) > 0.01 {
		t.Errorf("10 mg NO3/L cost %.3f to %.3f dKH", lo, hi)
	}
	if KHFromFeed(3)-KHFromUptake(3) != 0 {
		t.Error("what plants take back does not give back what it cost")
	}
}

func TestFedFishGiveTheRuleOfTheTrade(t *testing.T) {
	// 1 g of 45 % food, all eaten: 72 mg N in; what fish give off as ammonia by 0.092 is 41 mg N. Fed
	// computes it by another road, through what is kept and what is dissolved: the rule must lie well
	// within its band.
	n := Fed(book.Feed{What: "dry", Grams: 1, ProteinShare: 0.45, InWater: true}, husbandry.Breathes)
	rule := FeedTAN(1, 0.45)
	if n.TAN.Low > rule || n.TAN.High < rule {
		t.Errorf("TAN %.1f (%.1f to %.1f), the rule gives %.1f mg N", n.TAN.Median, n.TAN.Low, n.TAN.High, rule)
	}
	if all := FeedNitrogen(1, 0.45); n.N.Median > all || n.N.Median < 0.8*all {
		t.Errorf("%.1f of %.1f mg N reach the water", n.N.Median, all)
	}
	// 1 g of dry food a day in 100 L is 0.41 mg N/L, a rule of thumb by the 0.092.
	if c := rule.In(100); math.Abs(float64(c)-0.414) > 0.001 {
		t.Errorf("%.3f mg N/L", c)
	}
}

func TestFedOnLandBringsLess(t *testing.T) {
	f := book.Feed{What: "cricket", Grams: 10}
	land, frog := Fed(f, husbandry.Splashes), Fed(f, husbandry.LivesIn)
	f.InWater = true
	water := Fed(f, "")
	if !(land.N.Median < frog.N.Median && frog.N.Median < water.N.Median) {
		t.Errorf("mg N: %.0f by an animal of the land, %.0f by one of both, %.0f dropped in water", land.N.Median, frog.N.Median, water.N.Median)
	}
	if land.N.Sigma() <= water.N.Sigma() {
		t.Error("where the waste falls is in doubt, and the doubt is not larger")
	}
	if n := Fed(book.Feed{What: "dry"}, ""); n.N.Median != 0 {
		t.Errorf("no grams bring %v", n.N)
	}
	all := Fed(book.Feed{What: "dry", Grams: 1, EatenShare: 1, InWater: true}, "")
	half := Fed(book.Feed{What: "dry", Grams: 1, EatenShare: 0.5, InWater: true}, "")
	if half.N.Median <= all.N.Median || half.TAN.Median >= all.TAN.Median {
		t.Error("what is left rots whole, and is not given off at once")
	}
}

func TestRestingStock(t *testing.T) {
	// 12 ricefish of 0.4 g at 200 mg N/kg/d: about 1 mg N a day.
	fish := enclosure.Batch{Name: "ricefish", Species: "Oryzias latipes", Count: 12, Mass: 0.4}
	n, known := Resting(fish)
	if !known || n.N.Median < 0.9 || n.N.Median > 1.0 {
		t.Errorf("%v %v", n.N, known)
	}
	fish.Mass = 0
	if wide, known := Resting(fish); !known || wide.N.Sigma() < 1.5*n.N.Sigma() {
		t.Errorf("a mass from the table is as sure as one weighed: %v", wide.N)
	}
	fish.Count = 0
	if _, known := Resting(fish); known {
		t.Error("none left, and still a load")
	}
	if _, known := Resting(enclosure.Batch{Name: "x", Species: "Nonesuch", Count: 3, Mass: 5}); known {
		t.Error("a species that nobody knows has a known load")
	}
}

var day = time.Date(2026, 4, 1, 9, 0, 0, 0, time.UTC)

func line(id book.ID, days float64, b book.Body) book.Line {
	at := day.Add(time.Duration(days * 24 * float64(time.Hour)))
	return book.Line{ID: id, At: at, Recorded: at, Water: book.MainWater, By: book.Keeper, Body: b}
}

func TestHabitHoldsUntilTheNext(t *testing.T) {
	dry := func(g float64) book.Feed {
		return book.Feed{What: "dry", Grams: quantity.Grams(g), ProteinShare: 0.45, InWater: true, PerDay: true}
	}
	lines := []book.Line{line("a", 0, dry(1)), line("b", 10, dry(0.5)), line("c", 20, dry(0))}
	c := CourseOf(lines, book.MainWater, day.AddDate(0, 0, 40))
	first, second := c.At(day.AddDate(0, 0, 5)).N.Median, c.At(day.AddDate(0, 0, 15)).N.Median
	if first <= 0 || math.Abs(float64(second/first)-0.5) > 1e-9 {
		t.Errorf("%.1f then %.1f mg N a day", first, second)
	}
	if end := c.At(day.AddDate(0, 0, 25)).N.Median; end != 0 {
		t.Errorf("%.1f after the habit was ended", end)
	}
	if got, want := c.Between(day, day.AddDate(0, 0, 40)), 10*first+10*second; math.Abs(float64(got-want)) > 1e-6 {
		t.Errorf("%.2f in all, want %.2f", got, want)
	}
	other := line("d", 5, dry(9))
	other.Water = "pool"
	if again := CourseOf(append(slices.Clone(lines), other), book.MainWater, day.AddDate(0, 0, 40)); len(again) != len(c) {
		t.Error("another pool's food counts here")
	}
}

func TestOnceIsSpreadAndConserved(t *testing.T) {
	lines := []book.Line{
		line("f", 0, book.Feed{What: "frozen", Grams: 3, InWater: true}),
		line("c", 1, book.TakenOut{What: "carcass", Grams: 5}),
		line("l", 2, book.Added{What: "leaf", Grams: 20}),
		line("d", 3, book.Droppings{Where: "water", Grams: 1}),
	}
	c := CourseOf(lines, book.MainWater, day.AddDate(0, 0, 500))
	want := Fed(book.Feed{What: "frozen", Grams: 3, InWater: true}, "").N.Median + Carcass(5).N.Median/2 + Leaf(20).N.Median + Droppings(1, true).N.Median
	if got := c.Between(day.AddDate(0, 0, -10), day.AddDate(0, 0, 500)); math.Abs(float64(got/want)-1) > 1e-9 {
		t.Errorf("%.2f mg N over the time, %.2f put in", got, want)
	}
}

func TestStockStandsInUntilFeedIsWritten(t *testing.T) {
	fish := enclosure.Batch{Name: "ricefish", Species: "Oryzias latipes", Count: 12, Mass: 0.4}
	lines := []book.Line{
		line("s", 0, fish),
		line("f", 10, book.Feed{What: "dry", Grams: 0.3, InWater: true, PerDay: true}),
	}
	c := CourseOf(lines, book.MainWater, day.AddDate(0, 0, 20))
	before, after := c.At(day.AddDate(0, 0, 5)), c.At(day.AddDate(0, 0, 15))
	rest, _ := Resting(fish)
	if before.N != rest.N {
		t.Errorf("%v, resting %v", before.N, rest.N)
	}
	if want := Fed(lines[1].Body.(book.Feed), "").N; after.N != want {
		t.Errorf("%v a day, the food alone %v", after.N, want)
	}
}

// TestWoodLeachesAndFeedsNothing: wood brings carbon to the water over a year, and no nitrogen.
func TestWoodLeachesAndFeedsNothing(t *testing.T) {
	c := CourseOf([]book.Line{line("w", 0, book.Added{What: "wood", Grams: 1000})}, book.MainWater, day.AddDate(0, 0, 100))
	if len(c) != 1 || c[0].PerDay.N.Median != 0 || !(c[0].PerDay.C.Median > 0) {
		t.Fatalf("%+v", c)
	}
	if perDay := 1000 * float64(c[0].PerDay.C.Median); perDay > 60 { // mg C; of 60 L at rest with a fifth changed weekly some 20 mg/L
		t.Errorf("a kilogram of wood leaches %.0f mg C a day", perDay)
	}
}

// TestFoodWords: a word for a food counts as what stands in it; a label makes it dry food.
func TestFoodWords(t *testing.T) {
	n := func(what string, protein quantity.Share) MgN {
		return Fed(book.Feed{What: what, Grams: 1, ProteinShare: protein, InWater: true}, "").N.Median
	}
	for what, like := range map[string]string{
		"frozen bloodworms": "frozen", "Daphnia": "frozen", "crickets, dusted": "cricket", "mealworms": "cricket", "chopped worms": "earthworm", "flake": "dry", "pellets": "dry", "freeze-dried bloodworms": "dry",
	} {
		if got, want := n(what, 0), n(like, 0); got != want {
			t.Errorf("a gram of %s is %.1f mg N, of %s %.1f", what, got, like, want)
		}
	}
	if n("cucumber", 0) > n("frozen", 0)/2 || n("cricket pellets", 0.4) != n("dry", 0.4) {
		t.Errorf("cucumber %.1f mg N, labelled pellets %.1f", n("cucumber", 0), n("cricket pellets", 0.4))
	}
}

// TestOneMealIsNoDiet: a meal that is written down says nothing of the weeks after it; the stock stands in again until the next.
func TestOneMealIsNoDiet(t *testing.T) {
	fish := enclosure.Batch{Name: "ricefish", Species: "Oryzias latipes", Count: 12, Mass: 0.4}
	meal := book.Feed{What: "dry", Grams: 0.1, InWater: true}
	lines := []book.Line{line("s", 0, fish), line("f", 30, meal), line("g", 40, meal), line("h", 100, meal)}
	c := CourseOf(lines, book.MainWater, day.AddDate(0, 0, 110))
	rest, _ := Resting(fish)
	for days, resting := range map[int]bool{10: true, 31: false, 50: false, 55: true, 99: true, 105: false} {
		stock := false
		for _, s := range c {
			at := day.AddDate(0, 0, days).Add(time.Hour)
			stock = stock || s.What == "stock" && !at.Before(s.From) && at.Before(s.To) && s.PerDay.N == rest.N
		}
		if stock != resting {
			t.Errorf("day %d: the stock stands in %v", days, stock)
		}
	}
	if got, want := Written(lines, book.MainWater, day, day.AddDate(0, 0, 110)), (24.+10)/110; math.Abs(got-want) > 1e-9 {
		t.Errorf("of %g of the time it is written what was fed, want %g", got, want)
	}
	unweighed := []book.Line{line("s", 0, fish), line("f", 1, book.Feed{What: "dry", InWater: true})}
	if got := Written(unweighed, book.MainWater, day, day.AddDate(0, 0, 10)); got != 0 {
		t.Errorf("a meal that nobody weighed says what was fed for %g of the time", got)
	}
	if got := Written(nil, book.MainWater, day, day.AddDate(0, 0, 10)); got != 0 {
		t.Errorf("%g without a line", got)
	}
}

func TestConstantsHaveWorks(t *testing.T) {
	if len(Constants()) < 20 {
		t.Fatalf("%d constants", len(Constants()))
	}
	for _, c := range Constants() {
		if _, ok := cite.Lookup(c.Work); !ok {
			t.Errorf("%s: no work %q", c.Name, c.Work)
		}
		if d := of(c.Name); !(d.Low <= d.Median && d.Median <= d.High) {
			t.Errorf("%s: %v is not in order", c.Name, d)
		}
	}
}

func doubts(r *rapid.T, name string) Doubt[float64] {
	m := rapid.Float64Range(0.01, 1e4).Draw(r, name)
	return Doubt[float64]{
		m / rapid.Float64Range(1, 4).Draw(r, name+" down"), m, m * rapid.Float64Range(1, 4).Draw(r, name+" up"),
	}
}

func TestDoubtKeepsOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a, b := doubts(r, "a"), doubts(r, "b")
		for name, d := range map[string]Doubt[float64]{"by": a.By(b), "plus": a.Plus(b), "times": a.Times(3)} {
			if !(0 < d.Low && d.Low <= d.Median*(1+1e-12) && d.Median <= d.High*(1+1e-12)) || math.IsInf(d.High, 0) {
				r.Fatalf("%s: %+v", name, d)
			}
		}
		if s, u := a.Plus(b), b.Plus(a); math.Abs(s.Median-u.Median) > 1e-9*s.Median {
			r.Fatal("a sum depends on its order")
		}
		if x := a.At(normal95); math.Abs(x-a.High) > 1e-9*a.High {
			r.Fatalf("the 95 %% quantile %v of %v", x, a)
		}
	})
}

// TestDoubtAgainstDraws compares products and sums with draws, the sum within what Fenton's match is
// good for.
func TestDoubtAgainstDraws(t *testing.T) {
	a, b := Within(10.0, 1.6), Within(4.0, 2.0)
	r := rand.New(rand.NewPCG(1, 2))
	var product, sum []float64
	for range 40000 {
		x, y := a.At(r.NormFloat64()), b.At(r.NormFloat64())
		product, sum = append(product, x*y), append(sum, x+y)
	}
	check := func(name string, d Doubt[float64], drawn []float64, within float64) {
		slices.Sort(drawn)
		for q, want := range map[float64]float64{0.05: d.Low, 0.5: d.Median, 0.95: d.High} {
			if got := drawn[int(q*float64(len(drawn)))]; math.Abs(got/want-1) > within {
				t.Errorf("%s: quantile %.2f is %.2f, drawn %.2f", name, q, want, got)
			}
		}
	}
	check("product", a.By(b), product, 0.02)
	check("sum", a.Plus(b), sum, 0.04)
}

func TestOxygenDemandHasBothParts(t *testing.T) {
	n := Carcass(5)
	d := n.OxygenDemand().Median
	nitrogen, carbon := OxygenForNitrate(n.N.Median), n.C.Median*quantity.Grams(o2PerC)
	if d < nitrogen || d < carbon || d > 1.2*(nitrogen+carbon) {
		t.Errorf("%.2f g O2, of which nitrogen %.2f and carbon %.2f", d, nitrogen, carbon)
	}
}

func TestLandDrains(t *testing.T) {
	if n := Drainage(2).N; n.Median != MgN(2*of("land.n").Median) {
		t.Errorf("%v", n)
	}
	if DrownedInsects(1).N.Median != 31 {
		t.Error("a gram of cricket holds 31 mg N (feed tables)")
	}
	if w, l := Wood(100), Leaf(100); w.N.Median != 0 || w.C.Median <= 0 || w.C.Median >= l.C.Median/2 {
		t.Error("wood is poorer than leaf")
	}
}
