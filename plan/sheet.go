package plan

import (
	"time"

	"halfwater/caution"
	"halfwater/husbandry"
	"halfwater/quantity"
)

// Sheet is the ordered work of one visit, as codes and typed facts: sentences live in internal/say.
type Sheet struct {
	Enclosure string
	Water     string
	On        time.Time // the day of the visit
	Tier      husbandry.Tier
	Cautions  []caution.Caution // first, in order
	Siphon    *Siphon           // nil when no water is taken out, or no basin is known
	Service   Service
	Pour      *Pour     // nil when nothing can be poured; Refused says why
	RO        []ROStart // what has to be made before anything is poured; Pour has its own
	Done      *Done     // the change is done already, and there is no pour; else nil
	Restart   []RestartCheck
	Tests     []TestDue
	Effects   []Effect
	Concerns  []Concern
	Refused   []Refused
	Missing   []Missing // facts that were never given, and what each would buy
}

// Siphon is the mark to take the water down to.
type Siphon struct {
	Now, Mark, FullMark quantity.Millimetres
	Stop                quantity.Millimetres // never lower: pump intake or heater line plus a margin
	Intake, HeaterLine  quantity.Millimetres // 0 when none
	NowRead             bool                 // the level was read; else the full mark is assumed
	Out                 quantity.Band[quantity.Litres]
	Share               quantity.Share // of the held water, median
	Held                quantity.Band[quantity.HeldLitres]
}

// Service says which stage today and which to leave alone.
type Service struct {
	Due     *StageDue
	Leave   []StageLeft
	Stacked []Stacked // acts of one day whose effects could not be told apart
}

// StageDue is the one stage to service today.
type StageDue struct {
	Stage     string
	Code      string         // why: "plan.stage-flow" (flow below 70 % of clean), "plan.stage-age", ...
	FlowShare quantity.Share // of clean flow; 0 when never timed
	Last      time.Time      // last service; zero when never
	RinseIn   string         // "tank water"
}

// StageLeft is a stage to leave alone, and until when.
type StageLeft struct {
	Stage string
	Code  string
	Until time.Time
}

// Stacked are acts that should not share one day, with the code of what could not be told then.
type Stacked struct {
	Acts []string
	Code string
}

// Pour is what goes back in.
type Pour struct {
	Litres      quantity.Litres // total to pour
	Share       quantity.Share  // of the held water after pouring, median
	Parts       []Part
	Salts       []SaltDose
	Vessels     []VesselFill
	Neutraliser *NeutraliserDose
	Temp        Temperature
	RO          []ROStart
	Mix         []Effect                       // what the whole mix should read: GH, KH, EC, temperature
	VesselMix   []Effect                       // what any one vessel of it should read; half litres make them differ
	Gaps        []Gap                          // targets that no blend meets
	Weights     map[quantity.Measurand]float64 // of the least squares, named
	Plateau     []Plateau
	Larger      *Larger    // why far more than the routine is changed, or why no share is enough; else nil
	Path        []PathStep // when it cannot be done in one visit; this sheet's pour is its first step
	PathDays    int        // of the whole path; Path shows a week of it at most
}

// Part is litres of one source water, to the nearest half litre.
type Part struct {
	Source string
	Litres quantity.Litres
	Share  quantity.Share
}

// SaltDose is grams of one salt for the whole pour.
type SaltDose struct {
	Formula string
	Grams   quantity.Grams
}

// VesselFill is one filling of a vessel: litres of each source in it.
type VesselFill struct {
	Vessel string
	Brim   quantity.Litres
	Parts  []Part
}

// NeutraliserDose is how much of the keeper's neutraliser, for which litres, and why those.
type NeutraliserDose struct {
	Name        string
	Millilitres float64
	ForLitres   quantity.Litres
	Whole       bool // for the whole held water, by label, because the water is run in by hose
	Chloramine  bool
	// TANLeft is the nitrogen that chloramine leaves in the enclosure after mixing, mg N/L.
	TANLeft quantity.TotalAmmonia
}

// Temperature is how warm the new water has to be.
type Temperature struct {
	Enclosure  quantity.Celsius
	Known      bool                             // the enclosure's temperature is known
	Wanted     quantity.Range[quantity.Celsius] // of the new water, so that the step stays within its limit
	StepLimit  quantity.CelsiusDiff
	StepOfMix  quantity.CelsiusDiff // what pouring the sources as they are would do
	SourcesSet bool                 // the temperatures of the sources are known
	OfMix      quantity.Celsius     // the sources poured together as they are; 0 when not known
	BringTo    quantity.Celsius     // what the mix is brought to when OfMix lies outside Wanted; else 0
	Softest    string               // the source to warm or cool a part of: the one poured with the least KH
}

// ROStart is when to start an RO unit so that its water is there.
type ROStart struct {
	Fitting  string
	Source   string
	Litres   quantity.Litres
	Rate     quantity.LitresPerDay // at the temperature and pressure now
	Learnt   bool                  // rate from a timed litre, not from the label
	Duration time.Duration         // at the usual rate
	For      time.Time             // the visit it is for: this one, or the next when it is too late for this
	StartBy  time.Time             // counted with the slow end of the rate, 95 in 100
	Reject   quantity.Litres
}

// Effect is before and after with bands, canonical unit.
type Effect struct {
	Of            quantity.Measurand
	Free          bool // free ammonia, mg N/L (Of is then OfTAN)
	Before, After quantity.Band[float64]
	Within48h     *quantity.Band[float64] // for free ammonia and pH: the highest within 48 h
	Tier          husbandry.Tier          // after
}

// Gap is a target that no blend meets.
type Gap struct {
	Of           quantity.Measurand
	Wanted       quantity.Range[float64]
	Reached      float64
	ConflictWith quantity.Measurand // "" when it is out of reach on its own
}

// Plateau is where a quantity settles before a change under the routine: source + rise / share.
type Plateau struct {
	Of        quantity.Measurand
	Source    float64
	Rise      quantity.Band[float64] // per interval between changes
	Share     quantity.Share
	Before    quantity.Band[float64]
	NeedShare quantity.Share // the share that would keep it within the range; 0 when none does
	Changes   float64        // until nine tenths of the way there is gone
}

// Larger says which quantity asks for more than the routine changes.
type Larger struct {
	Code    string // "plan.larger-plateau", "plan.larger-correction", "plan.no-share"
	Of      quantity.Measurand
	Now     float64        // canonical, median; 0 when not known
	Plateau float64        // before a change, under the routine; 0 when it is not what asks
	Source  float64        // of the waters poured together
	Line    float64        // that is to be kept
	Routine quantity.Share // what is usually changed
	Share   quantity.Share // what is wanted
}

// PathStep is one day of a staged path.
type PathStep struct {
	Day     int // 0 today
	Share   quantity.Share
	Litres  quantity.Litres
	Effects []Effect
}

// RestartCheck is one check when switching back on, and when to look again.
type RestartCheck struct {
	Code  string
	After time.Duration
}

// TestDue is a test to take after the visit.
type TestDue struct {
	Of  quantity.Measurand
	At  time.Time
	Why string // code
}

// Concern is a declared worry.
type Concern struct {
	Code      string
	Tier      husbandry.Tier
	Emergency bool
	Of        quantity.Measurand // "" when it is not about a measurand
	Chance    float64            // over the draws; NaN when none is stated
	Line      float64            // the line that may be passed
	DependsOn string             // stay quiet when this concern is shown
	LookAgain time.Time
	Animal    string           // that sets the line
	With      string           // the other animal, of two that should not meet
	Because   *husbandry.Meets // the gravest reason why two should not meet; else nil
	Source    string           // the source water that does it
	Fault     *SourceFault     // what is wrong with its analysis; else nil
	Value     float64          // what the sentence is about, canonical unit of Of: the median now, the nitrogen left
	Last      time.Time        // the reading that it rests on; zero when it is not about its age
	Raised    float64          // KH that today's mix brings it to; 0 when it does not raise it
	NoPour    bool             // this sheet pours nothing, so its steps are no help
	Within    time.Duration    // how long before it shows; 0 when it is there or not told
}

// Refused is something that the sheet will not do, and why.
type Refused struct {
	Code   string
	Of     quantity.Measurand
	Value  float64
	Limit  float64
	Unit   string
	Source string       // the source water that it is about; else ""
	Until  time.Time    // when it can be done; zero when that is not known
	Fault  *SourceFault // what is wrong with its analysis; else nil
}

// Missing is a fact that was never given and what it would buy.
type Missing struct{ Code string }
