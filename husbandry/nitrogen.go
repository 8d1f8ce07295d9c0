package husbandry

import "halfwater/quantity"

// Food is something that brings protein into the enclosure: a feed, an insect, a carcass.
type Food struct {
	Name    string
	Protein quantity.Share // of the mass as given: dry feed as its label says, insects and flesh wet
}

// Insects, worms and flesh, wet.
var (
	Crickets   = Food{"crickets", quantity.Share(constants.Value("protein-cricket"))}
	Earthworms = Food{"earthworms", quantity.Share(constants.Value("protein-earthworm"))}
	FishFlesh  = Food{"fish flesh", quantity.Share(constants.Value("protein-fish-flesh"))}
)

// DryFeed is a feed by the protein share of its label, 0 to 1.
func DryFeed(protein quantity.Share) Food { return Food{"dry feed", protein} }

// Nitrogen is all the nitrogen in a mass of the food: 16 % of its protein. What is not eaten gives
// all of it to the water in the end.
func (f Food) Nitrogen(mass quantity.Grams) quantity.Grams {
	return mass * quantity.Grams(float64(f.Protein)*constants.Value("nitrogen-of-protein"))
}

// TotalAmmonia is the total ammonia, as N, that fish give off in a day from a day's feed that they
// eat: P_TAN = F PC 0.092. Source: Timmons and Ebeling, Recirculating Aquaculture, from memory.
func (f Food) TotalAmmonia(perDay quantity.Grams) quantity.MgNPerDay {
	return quantity.MgNPerDay(perDay.Milligrams() * float64(f.Protein) * constants.Value("tan-of-protein"))
}

// Retained is the share of the nitrogen eaten that stays in the body: growing stock, or grown
// stock fed to hold its mass.
func Retained(growing bool) quantity.Band[quantity.Share] {
	if growing {
		return bandOf[quantity.Share]("retained-growing")
	}
	return bandOf[quantity.Share]("retained-grown")
}

// CarcassNitrogen is the nitrogen in a dead animal of this wet mass; it all reaches the water if
// the carcass lies in it.
func CarcassNitrogen(mass quantity.Grams) quantity.Band[quantity.Grams] {
	return times[quantity.Grams](bandOf[quantity.Share]("nitrogen-carcass"), float64(mass))
}

// TrimmingsNitrogen is the nitrogen carried out with plant trimmings or algae of this wet mass.
func TrimmingsNitrogen(wet quantity.Grams) quantity.Band[quantity.Grams] {
	return times[quantity.Grams](bandOf[quantity.Share]("nitrogen-trimmings"), float64(wet))
}

// RestingNitrogen is the nitrogen that this mass of one kind gives off in a day whether it is fed
// or not, at 20 to 25 C, on land and in the water together. A plant gives off none; the band is
// then zero.
func RestingNitrogen(k Kept, mass quantity.Grams) quantity.Band[quantity.MgNPerDay] {
	name := map[Group]string{
		Fish: "resting-n-fish", Turtle: "resting-n-turtle", Lizard: "resting-n-lizard", Newt: "resting-n-amphibian",
		Frog: "resting-n-amphibian", Crab: "resting-n-crustacean", Shrimp: "resting-n-crustacean", Snail: "resting-n-snail",
	}[k.Species.Group]
	if name == "" {
		return quantity.Band[quantity.MgNPerDay]{}
	}
	return times[quantity.MgNPerDay](bandOf[quantity.MgNPerDay](name), float64(mass)/1000)
}

// Waste is how the nitrogen given off by one kind is made up, as shares of it, and how much of it
// comes into the water. The rest of the nitrogen is in other forms that mineralise. A form that is
// not given off has a band of zeros.
type Waste struct {
	Ammonia, Urea, UricAcid quantity.Band[quantity.Share]
	ReachesWater            quantity.Band[quantity.Share]
}

// WasteOf gives the waste of a kind; ok is false when its excretion is not known, or for a plant.
// Larvae of amphibians give off ammonia, into the water.
func WasteOf(k Kept) (w Waste, ok bool) {
	form := k.Species.Excretes
	if k.Larva() {
		form = Ammonia
	}
	switch form {
	case Ammonia:
		w.Ammonia, w.Urea = bandOf[quantity.Share]("ammonia-of-swimmers"), bandOf[quantity.Share]("urea-of-swimmers")
	case AmmoniaUrea:
		w.Ammonia, w.Urea = bandOf[quantity.Share]("ammonia-of-waders"), bandOf[quantity.Share]("urea-of-waders")
	case Urea:
		w.Ammonia, w.Urea = bandOf[quantity.Share]("ammonia-of-land-frogs"), bandOf[quantity.Share]("urea-of-land-frogs")
	case UricAcid:
		w.UricAcid = bandOf[quantity.Share]("uric-acid-of-lizards")
	default:
		return Waste{}, false
	}
	switch {
	case k.Use() == Breathes:
		w.ReachesWater = quantity.Band[quantity.Share]{Low: 1, Lo: 1, Median: 1, Hi: 1, High: 1}
	case k.Use() == LivesIn || k.Species.Group == Turtle:
		w.ReachesWater = bandOf[quantity.Share]("reaches-water-lives-in")
	default:
		w.ReachesWater = bandOf[quantity.Share]("reaches-water-splashes")
	}
	return w, true
}

// UreaRate is the rate at which urea turns to ammonia in mature water.
func UreaRate() quantity.Band[quantity.PerDay] { return bandOf[quantity.PerDay]("urea-rate") }

// UricAcidRate is the rate at which uric acid mineralises in wet mulm.
func UricAcidRate() quantity.Band[quantity.PerDay] { return bandOf[quantity.PerDay]("uric-acid-rate") }
