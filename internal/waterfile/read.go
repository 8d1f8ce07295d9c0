package waterfile

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"halfwater/quantity"
	"halfwater/water"
)

// Table is a file of waters, read.
type Table struct {
	Header []string
	Rows   []Row
	Faults Faults // rows that could not be read; they are in Rows too, without a question
}

// Row is one water.
type Row struct {
	Line  int
	ID    string
	Cells []string // as they stood, one per header
	ask   *question
}

// question is a water and the way its carbon is known, or two waters to be mixed.
type question struct {
	a      water.Pose
	b      *water.Pose
	shareA float64
}

// Molar masses, g/mol, from the atomic weights of IUPAC 2021 (abridged).
const (
	molarCa, molarMg, molarNa, molarK = 40.078, 24.305, 22.990, 39.098
	molarCl, molarSO4, molarNO3       = 35.45, 32.06 + 4*15.999, 14.007 + 3*15.999
	molarNO2, molarN, molarPO4        = 14.007 + 2*15.999, 14.007, 30.974 + 4*15.999
	equivalentCaCO3                   = (40.078 + 12.011 + 3*15.999) / 2
	largestRow, largestTable          = 1 << 16, 1 << 28 // bytes
)

var (
	needed  = []string{"temp_c", "ca_mg_l", "mg_mg_l", "na_mg_l", "k_mg_l", "cl_mg_l", "so4_mg_l", "alk_mg_l_caco3"}
	regimes = []string{"given_ph", "open", "closed_mix"}
)

// Read reads a table. Its error is [BadTable] or [MissingColumns]; faulty rows are in Faults.
func Read(r io.Reader) (*Table, error) {
	in := bufio.NewReaderSize(io.LimitReader(r, largestTable), largestRow)
	first, err := in.Peek(largestRow)
	if len(first) == 0 {
		return nil, BadTable{"the file is empty: it needs a header and a row for each water"}
	}
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	c := csv.NewReader(in)
	c.FieldsPerRecord = -1
	c.TrimLeadingSpace = true
	head, _, _ := strings.Cut(string(first), "\n")
	if strings.Contains(head, ";") && !strings.Contains(head, ",") {
		c.Comma = ';'
	}
	header, err := c.Read()
	if err != nil {
		return nil, BadTable{"the header does not read as CSV: " + err.Error()}
	}
	t := &Table{}
	at := map[string]int{}
	for i, name := range header {
		name = strings.TrimSpace(strings.TrimPrefix(name, "\ufeff"))
		t.Header = append(t.Header, name)
		key := strings.ToLower(name)
		if _, twice := at[key]; twice && key != "" {
			return nil, BadTable{fmt.Sprintf("the header has the column %s twice: name one of them otherwise", name)}
		}
		at[key] = i
	}
	var lacking []string
	for _, n := range needed {
		if _, ok := at[n]; !ok {
			lacking = append(lacking, n)
		}
	}
	_, hasPH := at["ph_in"]
	_, hasCO2 := at["log_pco2_in"]
	if !hasPH && !hasCO2 {
		lacking = append(lacking, "ph_in or log_pco2_in")
	}
	if len(lacking) > 0 {
		return nil, MissingColumns{lacking}
	}
	seen := map[string]int{}
	for {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			return t, nil
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			t.Faults = append(t.Faults, Fault{Line: bad.StartLine, Says: "does not read as CSV: " + bad.Err.Error() + "; check the quotation marks"})
			t.Rows = append(t.Rows, Row{Line: bad.StartLine})
			continue
		}
		if err != nil {
			return nil, err
		}
		line, _ := c.FieldPos(0)
		row := Row{Line: line, Cells: cells}
		p := parser{at: at, cells: cells, fault: Fault{Line: line}}
		row.ID = p.text("id")
		p.fault.ID = row.ID
		switch {
		case len(cells) != len(header):
			p.say("", fmt.Sprintf("has %d cells, the header %d; check commas and quotation marks", len(cells), len(header)))
		case row.ID != "" && seen[row.ID] > 0:
			p.say("id", fmt.Sprintf("the same id stands in line %d; give each water its own", seen[row.ID]))
		default:
			row.ask = p.question()
		}
		if row.ID != "" && seen[row.ID] == 0 {
			seen[row.ID] = line
		}
		if p.failed {
			row.ask = nil
			t.Faults = append(t.Faults, p.fault)
		}
		t.Rows = append(t.Rows, row)
	}
}

// parser reads one row and keeps its first fault.
type parser struct {
	at     map[string]int
	cells  []string
	fault  Fault
	failed bool
}

func (p *parser) say(column, what string) {
	if !p.failed {
		p.failed = true
		p.fault.Column, p.fault.Says = column, what
	}
}

func (p *parser) text(column string) string {
	if i, ok := p.at[column]; ok && i < len(p.cells) {
		return strings.TrimSpace(p.cells[i])
	}
	return ""
}

// number reads a cell; a missing column or empty cell is none.
func (p *parser) number(column string) (x float64, is bool) {
	s := p.text(column)
	if s == "" {
		return 0, false
	}
	x, err := quantity.ReadNumber(s)
	if err != nil {
		p.say(column, err.Error()+"; write a number such as 12.5, without a unit")
		return 0, false
	}
	return x, true
}

func (p *parser) must(column string) float64 {
	x, is := p.number(column)
	if !is {
		p.say(column, "is empty; write the number, 0 when there is none of it")
	}
	return x
}

// amount reads a concentration that cannot be negative.
func (p *parser) amount(column string, must bool) float64 {
	var x float64
	if must {
		x = p.must(column)
	} else {
		x, _ = p.number(column)
	}
	if x < 0 {
		p.say(column, fmt.Sprintf("%g is negative; a concentration cannot be: write 0 when none was found", x))
	}
	return x
}

func (p *parser) composition(prefix string) water.Composition {
	mmol := func(column string, molar float64, must bool) water.Molality {
		return water.Molality(p.amount(prefix+column, must) / molar)
	}
	c := water.Composition{
		Temperature: quantity.Celsius(p.must(prefix + "temp_c")),
		Ca:          mmol("ca_mg_l", molarCa, true), Mg: mmol("mg_mg_l", molarMg, true),
		Na: mmol("na_mg_l", molarNa, true), K: mmol("k_mg_l", molarK, true),
		Cl: mmol("cl_mg_l", molarCl, true), SO4: mmol("so4_mg_l", molarSO4, true),
		NO3: mmol("no3_mg_l", molarNO3, false), NO2: mmol("no2_mg_l", molarNO2, false),
		TAN: mmol("tan_mg_l", molarN, false), PO4: mmol("po4_mg_l", molarPO4, false),
		DOC: quantity.MgPerL(p.amount(prefix+"doc_mg_l", false)),
	}
	c.Alk = water.FromTitration(quantity.AlkalinityMeq(p.must(prefix+"alk_mg_l_caco3")/equivalentCaCO3), c.DOC)
	if !p.failed {
		if err := c.CheckBalance(); err != nil {
			p.say("", err.Error())
		}
	}
	return c
}

// question reads what is asked of the row.
func (p *parser) question() *question {
	regime := p.text("regime")
	if regime == "" {
		switch {
		case p.text("frac_a") != "":
			regime = "closed_mix"
		case p.text("ph_in") != "" && p.text("log_pco2_in") != "":
			p.say("regime", "both ph_in and log_pco2_in are filled in; leave one empty, or name the regime")
		case p.text("ph_in") != "":
			regime = "given_ph"
		case p.text("log_pco2_in") != "":
			regime = "open"
		default:
			p.say("", "neither ph_in nor log_pco2_in is filled in; one of them must say how much CO2 there is")
		}
	}
	q := &question{a: water.Pose{Composition: p.composition("")}}
	switch regime {
	case "given_ph":
		q.a.PH = water.Stated(quantity.PH(p.must("ph_in")))
	case "open":
		q.a.PCO2 = water.Stated(quantity.Atm(math.Pow(10, p.must("log_pco2_in"))))
	case "closed_mix":
		q.a.PH = water.Stated(quantity.PH(p.must("ph_in")))
		q.b = &water.Pose{Composition: p.composition("b_"), PH: water.Stated(quantity.PH(p.must("b_ph_in")))}
		q.shareA = p.must("frac_a")
		if !(q.shareA >= 0 && q.shareA <= 1) {
			p.say("frac_a", fmt.Sprintf("%g is no share; write a number from 0 to 1", q.shareA))
		}
	default:
		p.say("regime", fmt.Sprintf("%q is none of %s", regime, strings.Join(regimes, ", ")))
	}
	return q
}
