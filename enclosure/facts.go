package enclosure

import (
	"time"

	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// Fact is something that holds from a date until another fact of the same kind and key replaces
// it. Its date is that of the line that carries it.
type Fact interface {
	Kind() string
	Key() string
}

// About is the enclosure's name and place.
type About struct {
	Name     string
	Altitude quantity.Metres  // for air pressure; 0 when not known
	Room     quantity.Celsius // usual room temperature; 0 when not known
	Question string           // what the keeper asks, in their words
	Vet      string           // the vet's number, for the emergency page
}

// Basin is the box: inner measures, what stands in it, and the heights that matter, from the
// inside foot of the glass.
type Basin struct {
	Length, Width, Height quantity.Millimetres // inner
	FullMark              quantity.Millimetres // the usual level
	PumpIntake            quantity.Millimetres // the pump takes air below; 0 when none
	HeaterLine            quantity.Millimetres // the heater must stay under water down to here; 0 when none
	// Profile is the top of bed and land along the length, left to right, at mid depth: pairs
	// (x, z) in mm. Empty when never measured; LandShare and the bed heights then stand in.
	Profile           []Point
	LandShare         quantity.Share // share of the footprint that is land at the full mark
	BedFront, BedBack quantity.Millimetres
	StoneKg, WoodKg   float64
	FilterLitres      quantity.Litres // water in an outside filter
	FalseBottom       bool            // water stands under the land too
}

// Point is a point of the profile.
type Point struct{ X, Z quantity.Millimetres }

// SourceWater is a water that can be poured: tap, RO, rain, a stored mix.
type SourceWater struct {
	Name       string
	Analysis   water.Analysis
	Chloramine bool                         // chlorine in the analysis is bound (chloramine), not free
	InStore    water.Known[quantity.Litres] // how much can be had today; not known: as much as wanted
	MadeBy     string                       // the fitting that makes it (an RO unit); "" when it runs
}

// Fitting is a device: heater, pump, lamp, mister, RO unit, timer, RCD.
type Fitting struct {
	Name  string
	What  string // heater, pump, lamp, uv lamp, mister, ro unit, timer, rcd, air pump
	Power quantity.Watts
	// RO unit: rated production at RatedTemp, share of rated pressure, litres of reject per litre made.
	Rated         quantity.LitresPerDay
	RatedTemp     quantity.Celsius
	PressureShare quantity.Share
	RejectRatio   float64
}

// Stage is one basket or sponge of a filter.
type Stage struct {
	Name       string
	Order      int    // 1 is met first by the water
	Medium     string // sponge, floss, ceramic, gravel, carbon, ...
	Biological bool   // carries nitrifying biofilm
	Carbon     bool
	CleanJug   time.Duration   // time for the jug when clean; 0 when never timed
	Jug        quantity.Litres // the jug of the timing
}

// Batch is some animals or plants of one kind kept together: a card of the stock list.
type Batch struct {
	Name    string // "frogs", "ricefish"
	Species string // scientific name, a key of husbandry's table
	Count   int    // 0: none left
	Mass    quantity.Grams
	Larvae  bool
	Note    string
}

// RangeWanted is the keeper's own keeping range, on top of what the stock needs.
type RangeWanted struct {
	Of     quantity.Measurand
	Range  quantity.Range[float64] // canonical unit; an end that is not set is an infinity
	Reason string
}

// Vessel is a bucket or can in which water is mixed and carried.
type Vessel struct {
	Name   string
	Litres quantity.Litres
	Count  int
}

// Neutraliser is a water conditioner by what its label says, never by brand.
type Neutraliser struct {
	Name      string
	MlPer     float64         // millilitres ...
	ForLitres quantity.Litres // ... for so many litres
	ByHose    bool            // the water is run in by hose: the label then asks for the whole water
	BindsTAN  bool            // the label says that it binds the ammonia that chloramine leaves
}

// Routine is the habit as kept.
type Routine struct {
	ChangeShare quantity.Share // of the held water
	EveryDays   int
	Salts       []string // salts on the shelf, by formula
	TopUpWith   string   // name of a source water
}

// Retired ends a fact: a stage taken out, a fitting sold.
type Retired struct{ OfKind, OfKey string }

func (About) Kind() string       { return "about" }
func (Basin) Kind() string       { return "basin" }
func (SourceWater) Kind() string { return "source water" }
func (Fitting) Kind() string     { return "fitting" }
func (Stage) Kind() string       { return "stage" }
func (Batch) Kind() string       { return "stock" }
func (RangeWanted) Kind() string { return "range" }
func (Vessel) Kind() string      { return "vessel" }
func (Neutraliser) Kind() string { return "neutraliser" }
func (Routine) Kind() string     { return "routine" }
func (Retired) Kind() string     { return "retired" }

func (About) Key() string         { return "" }
func (Basin) Key() string         { return "" }
func (s SourceWater) Key() string { return s.Name }
func (f Fitting) Key() string     { return f.Name }
func (s Stage) Key() string       { return s.Name }
func (b Batch) Key() string       { return b.Name }
func (r RangeWanted) Key() string { return string(r.Of) }
func (v Vessel) Key() string      { return v.Name }
func (n Neutraliser) Key() string { return n.Name }
func (Routine) Key() string       { return "" }
func (r Retired) Key() string     { return r.OfKind + "/" + r.OfKey }

// Facts are the facts in force at one moment for one water body.
type Facts struct {
	About        About
	Basin        *Basin // nil when never given
	Sources      []SourceWater
	Fittings     []Fitting
	Stages       []Stage
	Stock        []Batch
	Wanted       []RangeWanted
	Vessels      []Vessel
	Neutralisers []Neutraliser
	Kits         []kit.Kit
	Routine      *Routine // nil when never given
}

// With is f with one more fact in force. Facts that share kind and key replace each other; the
// order of first appearance stays.
func (f Facts) With(fact Fact) Facts {
	switch v := fact.(type) {
	case About:
		f.About = v
	case Basin:
		f.Basin = &v
	case Routine:
		f.Routine = &v
	case SourceWater:
		f.Sources = put(f.Sources, v)
	case Fitting:
		f.Fittings = put(f.Fittings, v)
	case Stage:
		f.Stages = put(f.Stages, v)
	case Batch:
		f.Stock = put(f.Stock, v)
	case RangeWanted:
		f.Wanted = put(f.Wanted, v)
	case Vessel:
		f.Vessels = put(f.Vessels, v)
	case Neutraliser:
		f.Neutralisers = put(f.Neutralisers, v)
	case kit.Kit:
		f.Kits = put(f.Kits, v)
	case Retired:
		f = f.without(v)
	}
	return f
}

func (f Facts) without(r Retired) Facts {
	switch r.OfKind {
	case "basin":
		f.Basin = nil
	case "routine":
		f.Routine = nil
	case "source water":
		f.Sources = drop(f.Sources, r.OfKey)
	case "fitting":
		f.Fittings = drop(f.Fittings, r.OfKey)
	case "stage":
		f.Stages = drop(f.Stages, r.OfKey)
	case "stock":
		f.Stock = drop(f.Stock, r.OfKey)
	case "range":
		f.Wanted = drop(f.Wanted, r.OfKey)
	case "vessel":
		f.Vessels = drop(f.Vessels, r.OfKey)
	case "neutraliser":
		f.Neutralisers = drop(f.Neutralisers, r.OfKey)
	case "kit":
		f.Kits = drop(f.Kits, r.OfKey)
	}
	return f
}

// put and drop copy, so that facts of an earlier moment are never changed by a later one.
func put[F Fact](have []F, v F) []F {
	out := append([]F(nil), have...)
	for i := range out {
		if out[i].Key() == v.Key() {
			out[i] = v
			return out
		}
	}
	return append(out, v)
}

func drop[F Fact](have []F, key string) []F {
	var out []F
	for _, v := range have {
		if v.Key() != key {
			out = append(out, v)
		}
	}
	return out
}

// Source gives a source water by name.
func (f Facts) Source(name string) (SourceWater, bool) {
	for _, s := range f.Sources {
		if s.Name == name {
			return s, true
		}
	}
	return SourceWater{}, false
}

// Kit gives a kit by name.
func (f Facts) Kit(name string) (kit.Kit, bool) {
	for _, k := range f.Kits {
		if k.Name == name {
			return k, true
		}
	}
	return kit.Kit{}, false
}
