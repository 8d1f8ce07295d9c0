package husbandry

import (
	"slices"

	"halfwater/quantity"
)

// Group is the kind of living thing, as the trade sorts them.
type Group string

// The groups of the species table. A newt here is any salamander; a frog is a frog or a toad.
const (
	Lizard Group = "lizard"
	Turtle Group = "turtle"
	Newt   Group = "newt"
	Frog   Group = "frog"
	Crab   Group = "crab"
	Shrimp Group = "shrimp"
	Snail  Group = "snail"
	Fish   Group = "fish"
	Plant  Group = "plant"
)

// Animal reports whether the group is of animals.
func (g Group) Animal() bool { return g != Plant }

// Crustacean reports whether the group is of crustaceans: crabs and shrimp.
func (g Group) Crustacean() bool { return g == Crab || g == Shrimp }

// Amphibian reports whether the group is of amphibians: newts and frogs.
func (g Group) Amphibian() bool { return g == Newt || g == Frog }

// Reptile reports whether the group is of reptiles: lizards and turtles.
func (g Group) Reptile() bool { return g == Lizard || g == Turtle }

// WaterUse says what a species does with the water. The zero value is unknown.
type WaterUse string

// The uses of water. Only those who breathe it or live in it hold it to their own ranges of GH,
// KH, pH and nitrate.
const (
	Breathes WaterUse = "breathes" // takes its oxygen from the water
	LivesIn  WaterUse = "lives in" // breathes air and spends much of its life in the water
	Splashes WaterUse = "splashes" // bathes, drinks, or swims and does not care what is dissolved
	Roots    WaterUse = "roots"    // a plant with its roots or all of itself in the water
	Landed   WaterUse = "none"     // never in the water
)

// Active is the part of the day in which a species moves. The zero value is unknown.
type Active string

// The parts of the day.
const (
	ByDay   Active = "day"
	AtDusk  Active = "dusk"
	ByNight Active = "night"
	AnyHour Active = "both"
)

// Excretes is the form in which a species gives off nitrogen. The zero value is unknown.
type Excretes string

// The forms of nitrogen given off.
const (
	Ammonia     Excretes = "ammonia"
	AmmoniaUrea Excretes = "ammonia+urea"
	Urea        Excretes = "urea"
	UricAcid    Excretes = "uric acid"
)

// Species is one row of the species table: what it needs, what it does to others, what it gives
// off. Values are from memory of keeping practice, rounded inward; see Source and Confidence.
// They are prompts that a keeper may override, never a law. A blank is unknown.
type Species struct {
	Scientific, Common string
	Group              Group
	Use                WaterUse

	WaterTemp Maybe[quantity.Range[quantity.Celsius]]
	PH        Maybe[quantity.Range[quantity.PH]]
	GH        Maybe[quantity.Range[quantity.Hardness]]
	KH        Maybe[quantity.Range[quantity.Alkalinity]]
	Nitrate   Maybe[quantity.Nitrate] // the ceiling; a policy value

	AirDay   Maybe[quantity.Range[quantity.Celsius]]
	Basking  Maybe[quantity.Range[quantity.Celsius]] // surface
	NightMin Maybe[quantity.Celsius]
	Humidity Maybe[quantity.Range[quantity.Humidity]]
	UVZones  Maybe[UVZones]

	Length   Maybe[quantity.Millimetres] // adult: total length; frogs snout to vent; crabs and turtles shell
	Mass     Maybe[quantity.Grams]       // adult
	Gape     Maybe[quantity.Millimetres] // the deepest morsel it can swallow
	Active   Active
	Excretes Excretes
	Hazards  []Hazard

	Social, Hazard, Law        string // notes in the keeper's words
	SourceKind, Source, Belief string // Belief is high, medium or low
}

// Has reports whether the species carries the hazard.
func (s Species) Has(h Hazard) bool { return slices.Contains(s.Hazards, h) }

// Stage is the age at which an animal is kept.
type Stage string

// The stages. A larva is that of an amphibian: it breathes water whatever its parents do.
const (
	Adult Stage = "adult"
	Young Stage = "young"
	Larva Stage = "larva"
)

// Kept is a kind of animal or plant in the enclosure, at one stage. The empty stage is adult.
type Kept struct {
	Species Species
	Stage   Stage
}

// Grown is a species kept as adults.
func Grown(s Species) Kept { return Kept{s, Adult} }

// Larva reports whether these are larvae of an amphibian.
func (k Kept) Larva() bool { return k.Stage == Larva && k.Species.Group.Amphibian() }

// Use is the use of water at this stage.
func (k Kept) Use() WaterUse {
	if k.Larva() {
		return Breathes
	}
	return k.Species.Use
}

// BreathesWater reports whether the animal takes oxygen from the water. An animal whose use of
// water is unknown is taken to breathe it.
func (k Kept) BreathesWater() bool {
	return k.Species.Group.Animal() && (k.Use() == Breathes || k.Use() == "")
}

// HoldsWater reports whether the ranges of GH, KH, pH and nitrate of this kind count for the
// water. Those that only splash, and plants of the land, do not; the unknown does.
func (k Kept) HoldsWater() bool { return k.Use() != Splashes && k.Use() != Landed }
