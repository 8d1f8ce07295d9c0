package infer

import (
	"time"

	"halfwater/book"
	"halfwater/infer/blame"
	"halfwater/quantity"
)

// Draw is one way in which the water now may be. A quantity of which nothing is known is NaN in
// every draw and absent from [Belief.Evidence]. Total ammonia and nitrite are always drawn: where they
// were never read the draws are what enclosures are like, and the evidence has a zero Last.
type Draw struct {
	Held     quantity.HeldLitres // at the present level
	Temp     quantity.Celsius
	PH       quantity.PH
	PCO2     quantity.Atm // the water's own CO2 pressure, from the pair (pH, KH)
	GH       quantity.Hardness
	KH       quantity.Alkalinity
	EC       quantity.Conductivity
	TAN      quantity.TotalAmmonia
	NO2      quantity.Nitrite
	NO3      quantity.Nitrate
	Chloride quantity.MgPerL

	// The enclosure's own rates between changes, per week.
	NO3Rise     quantity.Nitrate      // made less taken up
	KHFall      quantity.Alkalinity   // lost, counted positive
	Evaporation quantity.LitresPerDay // what the air takes, replaced by top-up; at a first look, whatever top-ups replace
	Leak        quantity.LitresPerDay // what leaves as water with its salts, replaced by top-up too; NaN when not reckoned

	Reserve  float64 // nitrifying strength over load, infinite where nothing comes in; NaN when not reckoned
	KHInHand float64 // weeks until KH is gone at the present loss; +Inf when it does not fall, NaN when not reckoned
}

// Of gives the canonical value of a measurand in this draw; false when a draw has no such value.
func (d Draw) Of(m quantity.Measurand) (float64, bool) {
	switch m {
	case quantity.OfWaterTemp:
		return float64(d.Temp), true
	case quantity.OfPH:
		return float64(d.PH), true
	case quantity.OfGH:
		return float64(d.GH), true
	case quantity.OfKH:
		return float64(d.KH), true
	case quantity.OfEC:
		return float64(d.EC), true
	case quantity.OfTAN:
		return float64(d.TAN), true
	case quantity.OfNO2:
		return float64(d.NO2), true
	case quantity.OfNO3:
		return float64(d.NO3), true
	case quantity.OfChloride:
		return float64(d.Chloride), true
	}
	return 0, false
}

// Evidence says where the belief about one measurand comes from.
type Evidence struct {
	Readings []book.ID // the readings used, latest first
	Last     time.Time // of the latest reading; zero when the value rests on sources and balance alone
	// Carried is what happened since that reading and moved the value: kinds of line.
	Carried []string
	// Floor is the canonical value under which the kit supports no statement ("< 0.1"); 0 none.
	Floor float64
	// ByReadings is how much of what is known of the value its own readings say, 0 to 1; the rest is the
	// balance and other readings. NaN when not reckoned.
	ByReadings float64
	// Alarming says that ammonia or nitrite was last read so high that the rest of the book hardly bears it out: what may kill is
	// believed until it is read again, and not foreseen ([Foresee]).
	Alarming bool
}

// alarm says whether a quantity alarms.
func (b *Belief) alarm(of quantity.Measurand, alarming bool) {
	e := b.Evidence[of]
	e.Alarming = alarming
	b.Evidence[of] = e
}

// Refusal is a quantity that cannot be known from what the book holds, with the reason's code.
type Refusal struct {
	Of   quantity.Measurand
	Code string // of the sentence in internal/say: "infer.gh-from-tds", ...
	Line book.ID
}

// Doubtful is a reading that lies far from what was expected before it. It was used all the same, with
// the weight that the odds leave it; whether it is set aside is the keeper's to say.
type Doubtful struct {
	Line     book.ID
	Of       quantity.Measurand
	Code     string                 // "infer.reading-far", "infer.reading-empty"
	Expected quantity.Band[float64] // of what that kit would have shown, canonical
	Shown    quantity.Range[float64]
	Odds     float64 // chance of a reading so far out, on its side
}

// Belief is what the water of one body may be at one moment: equally likely draws.
type Belief struct {
	Water    string
	At       time.Time
	Draws    []Draw
	Evidence map[quantity.Measurand]Evidence
	Refused  []Refusal
	Doubtful []Doubtful // in the order of the book
	// Contradictions are what does not fit together when the whole window is looked at.
	Contradictions []blame.Contradiction
	// Oddities are what is odd about the times of lines.
	Oddities []Oddity
	// Bases are the odds of what each kit's numbers count, where neither card nor leaflet says; none at a first look.
	Bases []Meant
	// Rough says that the draws are those of the first look: there was nothing to find histories by, or the
	// search for them did not come to rest.
	Rough bool
	// Branches are the accounts between which the readings leave the choice, the likeliest first; nil when there is one.
	Branches []Branch
	// LeakTold is how much less is doubted of the share that a leak has in the top-ups than before any reading: 0
	// nothing is told, 1 it is known. NaN when not reckoned.
	LeakTold float64

	window   Window
	account  *account // nil when rough
	foreseen bool     // it is of a time to come
}

// Window is what a belief is computed from: the lines (all kinds, facts too), one water body, the
// moment of the belief, the moment of knowledge, and the seed. Same window, same belief.
type Window struct {
	Lines    []book.Line
	Water    string
	At       time.Time
	Recorded time.Time
	Now      time.Time // by the clock, so that lines about a time to come are named; zero: not told
	Seed     uint64
	// Before is a belief of the same book with fewer lines, or nil: the search begins where that one ended, and what
	// it finds is the same but sooner.
	Before *Belief
}
