package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"halfwater/internal/waterfile"
	"halfwater/quantity"
	"halfwater/water"
)

type waterCmd struct {
	File string `arg:"" optional:"" help:"CSV of waters, - for standard input. Without it, one water from the flags."`
	JSON bool   `help:"As JSON, for another program." name:"json"`
	Good bool   `help:"Write the rows that can be answered although others are at fault."`

	oneWater
}

// Help is printed below the flags.
func (waterCmd) Help() string {
	return `A table of waters: columns temp_c ca_mg_l mg_mg_l na_mg_l k_mg_l cl_mg_l so4_mg_l alk_mg_l_caco3,
where there is any no3_mg_l no2_mg_l tan_mg_l (as N) po4_mg_l doc_mg_l, and ph_in or log_pco2_in; in any
order, others are kept. A mixture has a second water in columns with b_ before them, and frac_a. Species,
saturation and conductivity come out in columns behind.

One water: what is known of it in flags, a whole analysis or only GH, KH, EC. What is not known
comes back as a band, or is refused where it cannot be known.

Example:
  halfwater water waters.csv > out.csv
  halfwater water --good - < waters.csv
  halfwater water --gh 14 --kh 9 --ec 620 --no3 20 --ph 7.6 --temp 15`
}

// Run answers a table, or one water.
func (c *waterCmd) Run(w *world) error {
	if c.File == "" {
		if !c.any() {
			return badWater{errors.New("neither a file nor a water is given: name a CSV file, or what is known of one water, such as --gh 14 --kh 9 --ec 620")}
		}
		return c.one(w.out, c.JSON)
	}
	if c.any() {
		return badWater{errors.New("both a file and a water in flags are given: leave one of them out")}
	}
	in := w.in
	if c.File != "-" {
		f, err := os.Open(c.File)
		if errors.Is(err, os.ErrNotExist) {
			return missingFile{c.File}
		} else if err != nil {
			return err
		}
		defer f.Close()
		in = f
	}
	table, err := waterfile.Read(in)
	if err != nil {
		return badWater{err}
	}
	answers := waterfile.Answer(table, water.Model{})
	if len(answers.Faults) > 0 {
		if !c.Good {
			return badWater{fmt.Errorf("%w\nnothing was written: mend the rows, or ask with --good for the others", answers.Faults)}
		}
		fmt.Fprintln(w.errOut, "halfwater: left out:")
		fmt.Fprintln(w.errOut, answers.Faults)
	}
	if c.JSON {
		return answers.JSON(w.out)
	}
	return answers.CSV(w.out)
}

// badWater is what was typed or read and cannot be.
type badWater struct{ err error }

func (e badWater) Error() string { return e.err.Error() }
func (e badWater) Unwrap() error { return e.err }

// ExitCode tells a refusal, where the numbers can be but do not suffice, from a slip.
func (e badWater) ExitCode() int {
	if errors.As(e.err, new(water.CannotKnow)) {
		return exitRefused
	}
	return exitBadInput
}

type missingFile struct{ name string }

func (e missingFile) Error() string { return fmt.Sprintf("there is no file %s", e.name) }
func (missingFile) ExitCode() int   { return exitMissing }

// oneWater is what may be known of a single water. A flag that is not given is not known.
type oneWater struct {
	Temp *float64 `help:"Temperature, C (20 when not given)." group:"One water"`
	GH   *float64 `help:"General hardness, dGH." name:"gh" group:"One water"`
	KH   *float64 `help:"Alkalinity as titrated, dKH." name:"kh" group:"One water"`
	EC   *float64 `help:"Conductivity at 25 C, uS/cm." name:"ec" group:"One water"`
	PH   *float64 `help:"pH." name:"ph" group:"One water"`
	CO2  *float64 `help:"Instead of pH: CO2 of the air that the water is at rest with, ppm." name:"co2" group:"One water"`
	Ca   *float64 `help:"Calcium, mg/L." group:"One water"`
	Mg   *float64 `help:"Magnesium, mg/L." group:"One water"`
	Na   *float64 `help:"Sodium, mg/L." group:"One water"`
	K    *float64 `help:"Potassium, mg/L." group:"One water"`
	Cl   *float64 `help:"Chloride, mg/L." group:"One water"`
	SO4  *float64 `help:"Sulfate, mg/L." name:"so4" group:"One water"`
	NO3  *float64 `help:"Nitrate, mg NO3/L." name:"no3" group:"One water"`
	NO2  *float64 `help:"Nitrite, mg NO2/L." name:"no2" group:"One water"`
	TAN  *float64 `help:"Total ammonia, mg N/L." name:"tan" group:"One water"`
	PO4  *float64 `help:"Phosphate, mg PO4/L." name:"po4" group:"One water"`
	DOC  *float64 `help:"Dissolved organic carbon, mg C/L." name:"doc" group:"One water"`
	Kind string   `help:"Where it comes from: mains, well, ro, rain, softened." enum:",mains,well,ro,rain,softened" default:"" group:"One water"`
}

// any reports whether a flag of the water was given.
func (o *oneWater) any() bool {
	for _, p := range []*float64{o.Temp, o.GH, o.KH, o.EC, o.PH, o.CO2, o.Ca, o.Mg, o.Na, o.K, o.Cl, o.SO4, o.NO3, o.NO2, o.TAN, o.PO4, o.DOC} {
		if p != nil {
			return true
		}
	}
	return o.Kind != ""
}

func stated[Q quantity.Number](p *float64, q func(float64) Q) water.Known[Q] {
	if p == nil {
		return water.Known[Q]{}
	}
	return water.Stated(q(*p))
}

func (o *oneWater) analysis() water.Analysis {
	mg := func(x float64) quantity.MgPerL { return quantity.MgPerL(x) }
	return water.Analysis{
		Kind:        water.SourceKind(o.Kind),
		Temperature: stated(o.Temp, func(x float64) quantity.Celsius { return quantity.Celsius(x) }),
		GH:          stated(o.GH, func(x float64) quantity.Hardness { return quantity.Hardness(x) }),
		KH:          stated(o.KH, func(x float64) quantity.Alkalinity { return quantity.Alkalinity(x) }),
		EC:          stated(o.EC, func(x float64) quantity.Conductivity { return quantity.Conductivity(x) }),
		PH:          stated(o.PH, func(x float64) quantity.PH { return quantity.PH(x) }),
		Ca:          stated(o.Ca, mg), Mg: stated(o.Mg, mg), Na: stated(o.Na, mg), K: stated(o.K, mg),
		Cl: stated(o.Cl, mg), SO4: stated(o.SO4, mg), DOC: stated(o.DOC, mg),
		NO3: stated(o.NO3, quantity.NitrateAsNO3), NO2: stated(o.NO2, quantity.NitriteAsNO2),
		TAN: stated(o.TAN, func(x float64) quantity.TotalAmmonia { return quantity.TotalAmmonia(x) }),
		PO4: stated(o.PO4, func(x float64) quantity.Phosphate { return quantity.Phosphate(x * phosphorusInPO4) }),
	}
}

const phosphorusInPO4 = 30.974 / (30.974 + 4*15.999)

// one completes the water, speciates its middle and prints both.
func (o *oneWater) one(out io.Writer, asJSON bool) error {
	if o.PH != nil && o.CO2 != nil {
		return badWater{errors.New("both --ph and --co2 are given: one of them says how much CO2 there is, leave the other out")}
	}
	done, err := o.analysis().Complete()
	if err != nil {
		return badWater{err}
	}
	var s water.Speciation
	air := 420.0 // ppm, outside air of today
	if o.CO2 != nil {
		air = *o.CO2
	}
	if o.PH != nil {
		s, err = water.GivenPH(done.Composition, quantity.PH(*o.PH))
	} else {
		s, err = water.Open(done.Composition, quantity.Atm(air*1e-6))
	}
	if err != nil {
		return badWater{err}
	}
	if asJSON {
		return oneJSON(out, &done, &s)
	}
	return o.print(out, &done, &s, air)
}
