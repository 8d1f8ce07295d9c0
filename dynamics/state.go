package dynamics

// Parts is how many places a state keeps nitrifiers in: index 0 is elsewhere (bed, glass, plants), 1
// and up are the filter stages in the order of [Course.Stages].
const Parts = 9

// Elsewhere is the index of the nitrifiers outside the filter.
const Elsewhere = 0

// Nitrifiers are the strengths of one place: what it would oxidise at 20 C with excess substrate and
// oxygen, pH 7.2 to 8.5. Unit: mg N/d.
type Nitrifiers struct {
	Ammonia float64 // first ammonia guild: bacteria, fast at high ammonia
	Frugal  float64 // second ammonia guild: archaea, fast at low ammonia
	Nitrite float64 // nitrite guild
}

// State is one water at one moment: amounts, not concentrations, so that evaporation, top-up and
// change are plain sums. pH, free ammonia, GH, KH, EC, CO2 and colour are derived from it (see
// derived.go) and never kept.
//
// All amounts are >= 0 except Alk, which may go below zero when an acid was poured in.
type State struct {
	Day    float64 // days since [Course.From]
	Volume float64 // water really held, L

	Ca, Mg, Na, K, Cl, SO4 float64 // mmol
	Alk                    float64 // meq; reference level of [halfwater/water.Composition]

	DOC    float64 // dissolved organic carbon, mg C
	Carbon float64 // activated carbon, g
	Loaded float64 // organic carbon on it, mg C

	Labile, Slow float64 // mulm and food that rot within a week; within months. mg N
	TAN          float64 // total ammonia that bacteria, plants and gills see, mg N
	Bound        float64 // ammonia held by a binder, which most kits read as well, mg N
	Chloramine   float64 // nitrogen of monochloramine, mg N
	NO2, NO3     float64 // mg N
	PO4          float64 // orthophosphate, mg P

	Strength [Parts]Nitrifiers

	Oxygen float64 // mean of the day, mg
	PCO2   float64 // pressure of CO2 with which the water would be at rest, mean of the day, atm
	Temp   float64 // C
	Film   float64 // share of the surface under a film, 0 to 1

	h float64 // activity of H+ when it was last solved for, where the next solve begins; 0 not yet

	stride float64 // the step that the error allowed last, days; 0 not yet

	// The other sides of the balances, counted from the start of the run.
	Plants float64 // nitrogen that plants took up, less what was trimmed, mg N
	Gas    float64 // nitrogen that left as gas, mg N
	PlantP float64 // phosphorus that plants took up, mg P
	Given  Ledger  // came in with food, waste, poured water and doses
	Gone   Ledger  // left with water, mulm siphoned and trims
}

// Ledger sums what crossed the border of the water. Units: mg N, mg P, mmol, L.
type Ledger struct {
	N, P                   float64
	Ca, Mg, Na, K, Cl, SO4 float64
	Litres                 float64 // vapour and seepage are counted in Gone
}

// Nitrogen is all nitrogen that the state still holds: in the water, the mulm and what plants and
// gas took from it since the start, mg N. Nitrogen + Gone.N - Given.N never changes.
func (s *State) Nitrogen() float64 {
	return s.Labile + s.Slow + s.TAN + s.Bound + s.Chloramine + s.NO2 + s.NO3 + s.Plants + s.Gas
}

// Charge is cations less anions with alkalinity counted as an anion, meq:
// 2 Ca + 2 Mg + Na + K + TAN - Cl - 2 SO4 - NO2 - NO3 - PO4 - Alk. Every process leaves that of a neutral water as it is.
// Bound ammonia counts as ammonium, chloramine as uncharged.
func (s *State) Charge() float64 {
	return 2*(s.Ca+s.Mg-s.SO4) + s.Na + s.K - s.Cl + (s.TAN+s.Bound-s.NO2-s.NO3)/molarN - s.PO4/molarP - s.Alk
}

// Filter sums the nitrifiers of all places.
func (s *State) Filter() Nitrifiers {
	var sum Nitrifiers
	for _, n := range s.Strength {
		sum.Ammonia += n.Ammonia
		sum.Frugal += n.Frugal
		sum.Nitrite += n.Nitrite
	}
	return sum
}
