package husbandry

import (
	"testing"

	"pgregory.net/rapid"

	"halfwater/quantity"
)

// Where the lines of the table, which are judgement, stand against published criteria.
func TestLinesAgainstPublishedCriteria(t *testing.T) {
	const nPerNH3 = 14.007 / 17.031
	at := lines.Value
	// CCME: 0.019 mg NH3/L, seen. EIFAC: 0.021 to 0.025, from memory.
	if guideline := 0.019 * nPerNH3; at("free-ammonia-watch") > guideline {
		t.Errorf("free ammonia is watched from %g, the guideline is %.4f mg N/L", at("free-ammonia-watch"), guideline)
	}
	// Schuytema and Nebeker 1999, abstract seen: lowest effect on frog embryos 0.03 to 0.11 mg NH3-N/L.
	if at("free-ammonia-act") > 0.03 || at("free-ammonia-emergency") > 0.11 {
		t.Error("free ammonia acts later than the lowest effect seen on frog embryos")
	}
	// US EPA 2013: no four-day mean over 2.5 of the chronic criterion.
	if at("ammonia-criterion-act") != 1 || at("ammonia-criterion-emergency") != 2.5 {
		t.Error("total ammonia does not act at the chronic criterion")
	}
	// CCME: 0.06 mg NO2-N/L, from memory; British Columbia: at most 0.20 with chloride over 10, from memory.
	if at("nitrite-watch") != 0.06 || at("nitrite-act") != 0.20 {
		t.Error("nitrite stands off its guidelines")
	}
	// Tomasso et al. 1979, abstract seen: 16 chloride to a nitrite, molar, stop the harm in catfish.
	if ratio := at("nitrite-chloride") / 35.45 / (at("nitrite-act-with-chloride") / 14.007); ratio < 16 {
		t.Errorf("the chloride that lets nitrite stand higher is %.0f to 1, under 16 to 1", ratio)
	}
	// US EPA 1986, from memory: warm water, one-day minimum 5.0 for early life, 3.0 for other life.
	if at("oxygen-act") < 5.0 || at("oxygen-emergency") < 3.0 {
		t.Error("oxygen acts later than the criteria")
	}
	// Camargo, Alonso and Salamanca 2005, from memory: 10 mg NO3-N/L can harm the sensitive over long times.
	if harm := quantity.Nitrate(10).AsNO3(); at("nitrate-act-sensitive") >= harm {
		t.Errorf("nitrate of sensitive stock acts at %g, harm is known at %.0f mg/L", at("nitrate-act-sensitive"), harm)
	}
}

// Another animal in the stock never loosens a line or a step; but one that needs soft, acid water
// takes KH and nitrate to its own range when no other holds the water.
func TestMoreStockIsNeverLooser(t *testing.T) {
	var animals []Species
	for _, s := range All() {
		if s.Group.Animal() {
			animals = append(animals, s)
		}
	}
	one := rapid.Custom(func(t *rapid.T) Kept {
		return Kept{rapid.SampledFrom(animals).Draw(t, "species"), rapid.SampledFrom([]Stage{Adult, Larva}).Draw(t, "stage")}
	})
	rapid.Check(t, func(t *rapid.T) {
		few := rapid.SliceOfN(one, 1, 4).Draw(t, "stock")
		newcomer := one.Draw(t, "newcomer")
		more := append(append([]Kept(nil), few...), newcomer)
		chloride := Known(quantity.MgPerL(rapid.Float64Range(0, 100).Draw(t, "chloride")))
		before, after := LinesOf(few, chloride), LinesOf(more, chloride)
		for _, b := range before.All {
			a, ok := after.Of(b.Of)
			if !ok {
				t.Fatalf("%s lost its lines", b.Of)
			}
			if needsSoftWater(newcomer) && !b.Of.Poison() {
				continue
			}
			for _, pair := range [][2]Maybe[float64]{{b.Watch, a.Watch}, {b.Act, a.Act}, {b.Emergency, a.Emergency}} {
				x, had := pair[0].Get()
				y, has := pair[1].Get()
				if had && (!has || b.tighter(x, y)) {
					t.Fatalf("%s: %g became %v", b.Of, x, pair[1])
				}
			}
		}
		s, r := StepLimitsOf(few), StepLimitsOf(more)
		if r.GH > s.GH || r.EC > s.EC || r.KH > s.KH || r.Temperature > s.Temperature {
			t.Fatalf("steps %+v became %+v", s, r)
		}
	})
}

func BenchmarkLinesOf(b *testing.B) {
	stock := kept(b, "Vietnamese mossy frog", "Japanese rice fish", "cherry shrimp")
	for b.Loop() {
		LinesOf(stock, noChloride)
	}
}

func BenchmarkLookup(b *testing.B) {
	for b.Loop() {
		if _, err := Lookup("Amazon sword"); err != nil {
			b.Fatal(err)
		}
	}
}
