package husbandry

// Hazard is what a species can do to others, to the enclosure or to people, as a code.
type Hazard string

// The hazards. "Hunts" goes after its prey; "snaps" takes what comes within reach.
const (
	Hunts        Hazard = "hunts"        // any animal that fits its mouth
	HuntsFish    Hazard = "hunts-fish"   // fish that fit
	HuntsShrimp  Hazard = "hunts-shrimp" // shrimp and small crabs that fit
	HuntsSnails  Hazard = "hunts-snails" // snails of any size
	Snaps        Hazard = "snaps"        // any animal that fits and comes within reach
	EatsYoung    Hazard = "eats-young"   // fry, shrimplets, larvae, eggs
	EatsPlants   Hazard = "eats-plants"
	Crushes      Hazard = "crushes" // shells of snails and crabs
	Grips        Hazard = "grips"   // pincers: sleeping fish, soft limbs
	Attacks      Hazard = "attacks" // any neighbour
	Nips         Hazard = "nips"    // fins, limbs, gills
	Bites        Hazard = "bites"
	RaspsSkin    Hazard = "rasps-skin"      // of slow animals
	ToxicSkin    Hazard = "toxic-skin"      // poisons others in small water, and whoever eats it
	WeakToxin    Hazard = "weak-skin-toxin" // weak in captivity
	Spines       Hazard = "spines"          // lodge in the throat of what swallows it
	Thiaminase   Hazard = "thiaminase"      // as feed
	TakesFood    Hazard = "takes-food"      // before slower neighbours
	SlowFeeder   Hazard = "slow-feeder"     // starves beside quick neighbours
	Digs         Hazard = "digs"
	ClimbsOut    Hazard = "climbs-out"
	Drowns       Hazard = "drowns" // in steep-sided water
	HeatHurts    Hazard = "heat-sensitive"
	EatsGravel   Hazard = "swallows-gravel"
	Multiplies   Hazard = "multiplies"
	Invasive     Hazard = "invasive" // listed or regulated somewhere
	Listed       Hazard = "listed"   // the notes name a list or a protection: ask the authority
	Brackish     Hazard = "brackish" // needs salt in the water
	HeavyWaste   Hazard = "heavy-waste"
	Solitary     Hazard = "solitary"     // not even with its own kind
	OneMale      Hazard = "one-male"     // one male in a group
	Shades       Hazard = "shades"       // covers the surface
	IrritantSap  Hazard = "irritant-sap" // to whoever bites it, and to hands
	CarriesGerms Hazard = "salmonella"   // commonly named carriers; every reptile and amphibian may carry it
)

var hazards = map[Hazard]bool{
	Hunts: true, HuntsFish: true, HuntsShrimp: true, HuntsSnails: true, Snaps: true, EatsYoung: true,
	EatsPlants: true, Crushes: true, Grips: true, Attacks: true, Nips: true, Bites: true, RaspsSkin: true,
	ToxicSkin: true, WeakToxin: true, Spines: true, Thiaminase: true, TakesFood: true, SlowFeeder: true,
	Digs: true, ClimbsOut: true, Drowns: true, HeatHurts: true, EatsGravel: true, Multiplies: true,
	Invasive: true, Listed: true, Brackish: true, HeavyWaste: true, Solitary: true, OneMale: true, Shades: true,
	IrritantSap: true, CarriesGerms: true,
}
