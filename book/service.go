package book

import (
	"time"

	"halfwater/quantity"
)

var (
	_ = register(ServiceStarted{})
	_ = register(ServiceEnded{})
	_ = register(Service{})
	_ = register(SwitchedOn{})
	_ = register(Dose{})
	_ = register(TimedJug{})
	_ = register(TimedLitre{})
)

// ServiceStarted and ServiceEnded frame the work of one visit.
type ServiceStarted struct{ Note string }

// ServiceEnded closes a visit.
type ServiceEnded struct{ Note string }

// Service is work on one filter stage.
type Service struct {
	Stage         string
	RinsedIn      string // tank water, tap, hot tap, nothing; "replaced" when the medium is new
	NoFlowMinutes Minutes
}

// SwitchedOn is power back on after a service or a cut.
type SwitchedOn struct{ OffSince time.Time }

// Dose is something put into the water. Never a medicine's dose of the program's own: what the
// keeper writes here is what a vet or a label said.
type Dose struct {
	What        string // neutraliser, salt by formula, medicine as prescribed, starter, other
	Millilitres float64
	Grams       quantity.Grams
	Note        string
}

// TimedJug is the flow of a filter by jug and watch.
type TimedJug struct {
	Stage   string
	Litres  quantity.Litres
	Seconds float64
}

// TimedLitre is one litre of an RO unit by the watch.
type TimedLitre struct {
	Fitting string
	Litres  quantity.Litres // 1 by default
	Seconds float64
	Temp    quantity.Celsius // of the water that runs in
	Reject  quantity.Litres  // litres of reject in that time; 0 not measured
}

// Kind is the kind of line.
func (ServiceStarted) Kind() string { return "service started" }

// Kind is the kind of line.
func (ServiceEnded) Kind() string { return "service ended" }

// Kind is the kind of line.
func (Service) Kind() string { return "service" }

// Kind is the kind of line.
func (SwitchedOn) Kind() string { return "switched on" }

// Kind is the kind of line.
func (Dose) Kind() string { return "dose" }

// Kind is the kind of line.
func (TimedJug) Kind() string { return "timed jug" }

// Kind is the kind of line.
func (TimedLitre) Kind() string { return "timed litre" }

// Refs are the names that the line uses.
func (s Service) Refs() []Ref { return []Ref{{"stage", "stage", s.Stage}} }

// Refs are the names that the line uses.
func (t TimedJug) Refs() []Ref { return []Ref{{"stage", "stage", t.Stage}} }

// Refs are the names that the line uses.
func (t TimedLitre) Refs() []Ref { return []Ref{{"fitting", "fitting", t.Fitting}} }

// Check says what is wrong with the line.
func (s Service) Check() error {
	c := checking(s)
	c.named("stage", s.Stage, "say which stage of the filter")
	c.among("rinsed in", s.RinsedIn, "", "tank water", "tap", "hot tap", "nothing", "replaced")
	c.minutes("no flow", s.NoFlowMinutes)
	return c.err()
}

// Check says what is wrong with the line.
func (s SwitchedOn) Check() error {
	c := checking(s)
	if !s.OffSince.IsZero() && s.OffSince.Before(firstDay) {
		c.bad("off since", "book.long-ago", "is "+s.OffSince.Format(time.DateOnly), "look at the year")
	}
	return c.err()
}

// Check says what is wrong with the line.
func (d Dose) Check() error {
	c := checking(d)
	c.named("what", d.What, "say what was put in")
	c.within("millilitres", d.Millilitres, 0, mostLitres, "mL")
	c.grams("grams", d.Grams)
	if d.Millilitres == 0 && d.Grams == 0 && d.Note == "" {
		c.bad("millilitres", "book.missing", "and grams are empty", "write how much, or a note")
	}
	return c.err()
}

// Check says what is wrong with the line.
func (t TimedJug) Check() error {
	c := checking(t)
	c.positive("litres", float64(t.Litres), mostLitres, "L", "write how much the jug holds")
	c.positive("seconds", t.Seconds, mostSeconds, "s", "write how long the jug took to fill")
	return c.err()
}

// Check says what is wrong with the line.
func (t TimedLitre) Check() error {
	c := checking(t)
	c.named("fitting", t.Fitting, "say which RO unit")
	c.litres("litres", t.Litres)
	c.positive("seconds", t.Seconds, mostSeconds, "s", "write how long it took")
	c.spanned("temp", quantity.OfWaterTemp, float64(t.Temp))
	c.litres("reject", t.Reject)
	return c.err()
}
