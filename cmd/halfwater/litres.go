package main

import (
	"strings"

	"halfwater/book"
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
	"halfwater/quantity"
)

type litresCmd struct {
	From   float64 `help:"The level fell from here, cm on the staff." placeholder:"CM"`
	To     float64 `help:"... to here." placeholder:"CM"`
	Label  string  `help:"A size that a label doses for: 120 L, 30 US gal, 25 imp gal." placeholder:"SIZE"`
	Tracer float64 `help:"Plan a salt tracer for water of this EC, uS/cm. Refused with crustaceans or amphibians in." placeholder:"EC"`
	JSON   bool    `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (litresCmd) Help() string {
	return `Example:
  halfwater litres
  halfwater litres --from 24.0 --to 21.4
  halfwater litres --label "120 L"      (exit code 3: a dose is for the water held)`
}

// Run says how much water there is, and how that is known.
func (c *litresCmd) Run(w *world) error {
	s, k, err := w.openThere()
	if err != nil {
		return err
	}
	defer s.Close()
	l, err := k.Litres(w.ctx, w.id, book.MainWater)
	if err != nil {
		return err
	}
	if c.From > 0 || c.To > 0 {
		if err := l.FellBetween(quantity.Centimetres(c.From), quantity.Centimetres(c.To)); err != nil {
			return err
		}
	}
	if c.Tracer > 0 {
		if err := l.WithTracer(quantity.Conductivity(c.Tracer)); err != nil {
			return err
		}
	}
	if c.Label != "" {
		number, unit, _ := strings.Cut(strings.TrimSpace(c.Label), " ")
		size, err := quantity.ReadNumber(number)
		if err != nil {
			return &keeper.Fault{Kind: keeper.Bad, Field: "label", Say: say.Error(err), Err: err}
		}
		if err := l.ForLabel(size, strings.TrimSpace(unit)); err != nil {
			return err
		}
	}
	if c.JSON {
		return report.JSON(w.out, l)
	}
	return report.LitresText(w.out, l)
}
