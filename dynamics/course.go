package dynamics

import (
	"time"

	"halfwater/book"
)

// Course is what happened to one water over a time: the book turned into stretches of even forcing and
// exact events. It is built once ([Compile]) and never changed by a run, so that many runs may share it.
type Course struct {
	From time.Time
	Days float64 // the course ends at From + Days

	Held     float64  // litres at the full mark, before [HeldWater]
	Surface  float64  // open water, m2
	Pressure float64  // of the air, atm
	Stages   []string // names of filter stages: Parts 1, 2, ...

	Light Light

	Pieces  []Piece // in order, each beginning where the last ends, the first at 0, the last at Days
	Events  []Event // in order of Day
	Changes int     // how many entries Deviations.Litres has
	Losses  []Loss  // priors of Deviations.Loss, by index

	// LoadSD is the ln standard deviation of the load as the book has it: what [Load] is to be taken
	// with when the book is vaguer than its prior.
	LoadSD float64
	// EvaporationSD is the ln standard deviation of the pieces' evaporation: how far the top-ups in the book, or else
	// the box alone, tell it. It is what [Evaporation] is to be taken with.
	EvaporationSD float64

	Notes []Note // what was assumed
}

// Light is when lamps are on and when food is given: for the hours of the day only.
type Light struct {
	On    float64 // hour of the day, 0-24
	Hours float64
	Meal  float64 // hour of the usual meal
}

// Piece is a stretch of even forcing, in days from [Course.From]. Loads are medians of the book, mg
// N/d.
type Piece struct {
	From, To    float64
	TAN         float64 // given off as total ammonia, or urea, mg N/d
	Labile      float64 // to the labile mulm, mg N/d
	Slow        float64 // to the slow mulm, mg N/d
	PO4         float64 // given off as phosphate, mg P/d
	Leach       float64 // DOC of leaf and wood that lie in it, mg C/d
	Temp        float64 // C
	Evaporation float64 // L/d
	TopUp       int     // 1 + index of the event whose water replaces the evaporation unlogged; 0 none
	NoFlow      bool    // the filter stands still: its stages do nothing, the surface is still
	Still       bool    // the surface is not moved: a film may grow
}

// Kind is what an event does.
type Kind int

// The kinds of event.
const (
	Poured    Kind = iota // water out, water in: Out, In, ToMark, Pour, Salts, Mulm, Binds
	Lost                  // nitrifiers lost: Places, Loss
	Renewed               // carbon renewed: Grams
	Disturbed             // bed disturbed: Share of the slow mulm
	Trimmed               // plants taken out: N
	Dosed                 // Salts alone, no water; Binds
	Skimmed               // the film taken off
	Template              // nothing happens: its Pour is what Piece.TopUp names
)

// Event is one thing that happened at a moment. Fields that its kind does not name are zero.
type Event struct {
	Day  float64
	Kind Kind
	Line book.ID

	Out, In float64 // L as logged
	ToMark  bool    // what is poured in ends at the full mark, whatever In says
	Pour    Water   // per litre poured
	Tap     Water   // the part of Pour that follows [Deviations.Tap]
	Salts   Water   // amounts, not per litre: mmol, meq, mg
	Mulm    float64 // share of the mulm that leaves per share of water taken out, or of the bed siphoned
	Bed     float64 // share of the bed siphoned
	Binds   bool    // a conditioner binds the ammonia of chloramine, or what is there

	Change int // 1 + index into Deviations.Litres; 0 exact
	Places [Parts]bool
	Loss   int // 1 + index into Deviations.Loss; 0 nothing is lost
	Grams  float64
	Share  float64
	N      float64 // mg N
}

// Water is a poured water per litre (or, as Event.Salts, amounts).
type Water struct {
	Ca, Mg, Na, K, Cl, SO4 float64 // mmol
	Alk                    float64 // meq
	DIC                    float64 // mmol
	TAN, Chloramine        float64 // mg N
	NO2, NO3               float64 // mg N
	PO4                    float64 // mg P
	DOC                    float64 // mg C
	Oxygen                 float64 // mg
	Volume                 float64 // L: 1 per litre, 0 for salts
	Temp                   float64 // C
}

// Note is the code of an assumption made while compiling; the sentence stands in internal/say.
type Note struct {
	Code string
	Line book.ID
	What string
}

// Codes of notes.
const (
	SourceUnknown  = "dynamics.source-unknown"  // water poured of which nothing is known: taken as the enclosure's other sources
	SourceGuessed  = "dynamics.source-guessed"  // its analysis leaves ions open that no rule closes
	NoTemperature  = "dynamics.no-temperature"  // nobody read it: 24 C
	NoFood         = "dynamics.no-food"         // neither food nor stock in the book: no load
	TopUpUnlogged  = "dynamics.top-up-unlogged" // evaporation replaced by the routine's water, nobody wrote it down
	SaltUnknown    = "dynamics.salt-unknown"    // a salt that is not in the table: left out
	StagesTooMany  = "dynamics.stages-too-many" // stages past the eighth are counted with the eighth
	ChlorineOpen   = "dynamics.chlorine-open"   // chlorinated water poured, no neutraliser in the book
	ChangeLitres   = "dynamics.change-litres"   // litres of a change taken from levels, or guessed
	LineLeftOut    = "dynamics.line-left-out"   // a line that has no effect here
	EvaporationOld = "dynamics.evaporation"     // evaporation by the box, no top-ups written down
)

// Day is a moment in days from the start of the course.
func (c *Course) Day(t time.Time) float64 { return t.Sub(c.From).Hours() / 24 }

// Time is the moment of a day of the course.
func (c *Course) Time(day float64) time.Time {
	return c.From.Add(time.Duration(day * 24 * float64(time.Hour)))
}
