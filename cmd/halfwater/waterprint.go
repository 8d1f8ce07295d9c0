package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"text/tabwriter"

	"halfwater/internal/say"
	"halfwater/internal/waterfile"
	"halfwater/quantity"
	"halfwater/water"
)

// print writes a water for a person.
func (o *oneWater) print(out io.Writer, done *water.Completed, s *water.Speciation, air float64) error {
	t := tabwriter.NewWriter(out, 0, 8, 2, ' ', 0)
	line := func(name, format string, x ...any) { fmt.Fprintf(t, "%s\t%s\n", name, fmt.Sprintf(format, x...)) }
	c := &s.Composition
	line("GH", "%.1f dGH", c.GH())
	line("KH", "%.1f dKH", c.KH())
	if o.PH != nil {
		line("pH", "%.2f", s.PH)
	} else {
		line("pH", "%.2f at rest with air of %.0f ppm CO2", s.PH, air)
	}
	line("CO2", "%.1f mg/L", s.CO2())
	line("EC", "%.0f uS/cm at 25 C; %.0f at %.1f C without compensation", s.EC25(), float64(s.EC()), c.Temperature)
	if c.TAN > 0 {
		line("free ammonia", "%.3f mg N/L", s.FreeAmmonia())
	}
	line("SI", "calcite %+.2f, aragonite %+.2f, gypsum %+.2f", s.SICalcite(), s.SIAragonite(), s.SIGypsum())
	line("ionic strength", "%.1f mmol/kg", 1e3*s.IonicStrength)
	for _, b := range bandsOf(done) {
		if b.band.High-b.band.Low > 1e-3 {
			line(b.name, "%.1f mg/L (8 chances in 10: %.1f to %.1f)", b.molar*float64(b.middle), b.molar*float64(b.band.Lo), b.molar*float64(b.band.Hi))
		} else {
			line(b.name, "%.1f mg/L", b.molar*float64(b.middle))
		}
	}
	for _, n := range done.Notes {
		line("note", "%s", say.Sentence(string(n), nil))
	}
	return t.Flush()
}

// ionBand is an ion of a completed water with its band.
type ionBand struct {
	name   string
	molar  float64 // g/mol
	middle water.Molality
	band   quantity.Band[water.Molality]
}

func bandsOf(d *water.Completed) []ionBand {
	c := &d.Composition
	return []ionBand{
		{"Ca", 40.078, c.Ca, d.Ca},
		{"Mg", 24.305, c.Mg, d.Mg},
		{"Na", 22.990, c.Na, d.Na},
		{"K", 39.098, c.K, d.K},
		{"Cl", 35.45, c.Cl, d.Cl},
		{"SO4", 96.056, c.SO4, d.SO4},
		{"NO3", 62.004, c.NO3, d.NO3},
	}
}

// oneJSON writes a water for another program: the columns of the table, the ions with their
// bands in mmol/kg, and the notes.
func oneJSON(out io.Writer, done *water.Completed, s *water.Speciation) error {
	var columns bytes.Buffer
	if err := waterfile.JSON(&columns, s); err != nil {
		return err
	}
	type ion struct {
		Middle water.Molality `json:"middle_mmol_kg"`
		Lo     water.Molality `json:"lo_mmol_kg"`
		Hi     water.Molality `json:"hi_mmol_kg"`
	}
	ions := map[string]ion{}
	for _, b := range bandsOf(done) {
		ions[b.name] = ion{b.middle, b.band.Lo, b.band.Hi}
	}
	enc := json.NewEncoder(out)
	enc.SetIndent("", "  ")
	return enc.Encode(struct {
		GH    float64         `json:"gh_dgh"`
		KH    float64         `json:"kh_dkh"`
		Water json.RawMessage `json:"water"`
		Ions  map[string]ion  `json:"ions"`
		Notes []water.Note    `json:"notes"`
	}{float64(done.Composition.GH()), float64(done.Composition.KH()), columns.Bytes(), ions, done.Notes})
}
