package water

import (
	"errors"
	"math"
	"strings"
	"testing"

	"halfwater/quantity"
)

// TestRefusalsNameWhat: a number that cannot be is refused by name, and the sentence says what to
// do; nothing else is touched.
func TestRefusalsNameWhat(t *testing.T) {
	for name, spoil := range map[string]func(c *Composition){
		"Ca": func(c *Composition) { c.Ca = -1 }, "Mg": func(c *Composition) { c.Mg = Molality(math.NaN()) },
		"Na": func(c *Composition) { c.Na = Molality(math.Inf(1)) }, "K": func(c *Composition) { c.K = 1e9 },
		"Cl": func(c *Composition) { c.Cl = -1e-9 }, "SO4": func(c *Composition) { c.SO4 = -2 },
		"NO3": func(c *Composition) { c.NO3 = -2 }, "NO2": func(c *Composition) { c.NO2 = -2 },
		"TAN": func(c *Composition) { c.TAN = -2 }, "PO4": func(c *Composition) { c.PO4 = -2 },
		"DOC": func(c *Composition) { c.DOC = -2 }, "alkalinity": func(c *Composition) { c.Alk = Equivalents(math.NaN()) },
		"temperature": func(c *Composition) { c.Temperature = 46 },
		"sum of ions": func(c *Composition) { c.Na, c.Cl = 1000, 1000 },
		"ionic strength": func(c *Composition) {
			c.Mg, c.Cl = 450, 900
		},
	} {
		c := hardTap
		spoil(&c)
		_, err := Open(c, 1e-3)
		var o OutOfSpan
		if !errors.As(err, &o) || o.Of != name || !strings.Contains(err.Error(), name+" ") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := GivenPH(hardTap, 1.9); !errors.As(err, new(OutOfSpan)) {
		t.Errorf("pH 1.9: %v", err)
	}
	if _, err := Open(hardTap, 11); !errors.As(err, new(OutOfSpan)) {
		t.Errorf("11 atm: %v", err)
	}
	if _, err := Closed(hardTap, -1); !errors.As(err, new(OutOfSpan)) {
		t.Errorf("DIC -1: %v", err)
	}
	// pH 11 needs 1 meq/L of OH- alone: a KH of 0.1 contradicts it, by about that.
	var x Contradiction
	if _, err := GivenPH(Composition{Temperature: 25, Na: 0.036, Alk: 0.036}, 11); !errors.As(err, &x) || x.Least < 0.9 || x.Least > 1.1 {
		t.Errorf("pH 11 at KH 0.1: %v", err)
	}
	// More acid than a pH of 0 can hold.
	if _, err := Open(Composition{Temperature: 25, Cl: 1400, Alk: -1400}, 0); err == nil {
		t.Error("1.4 mol/kg of acid was answered")
	}
	for _, err := range []error{
		Unposed{},
		NothingToMix{2},
		NoPH{3},
		NotSettled{1e-3},
		BadFormula{"x"},
		NoRest{Calcite},
		Unfillable{3, 2},
		BadTarget{Target{Aim: "pH"}},
		TooMuchSalt{salts[2], 40, 1},
		UnknownSalt{"x"},
		CannotKnow{"GH", nil, NothingStated, "test it"},
		Disagrees{300, 600},
	} {
		if s := err.Error(); len(s) < 20 || strings.Contains(s, "%!") {
			t.Errorf("%T says %q", err, s)
		}
	}
}

func TestPens(t *testing.T) {
	s := opened(t, hardTap, 1e-3)
	cold := hardTap
	cold.Temperature = 20
	c := opened(t, cold, 1e-3)
	// By hand: a pen that shows 500 at 20 C without compensation stands for 500/0.9 at 25 C.
	near(t, "linear", float64(Uncompensated(500).Linear(20)), 555.56, 0.01)
	near(t, "and back", float64(UncompensatedOf(555.56, 20)), 500, 0.01)
	// Linear and true compensation agree within 2 % for ordinary water between 15 and 30 C (practice).
	near(t, "pen over truth", float64(c.PenEC()/c.EC25()), 1, 0.02)
	near(t, "at 25 C they are one", float64(s.PenEC()/s.EC25()), 1, 1e-12)
	// Real sum of ions over EC of hard bicarbonate water: 0.65 to 0.85 (practice).
	near(t, "mg/L of ions per uS/cm", float64(s.DissolvedSolids())/float64(s.EC25()), 0.75, 0.10)
	near(t, "TDS 250 at 0.5", float64(TDSAsNaCl.EC(250)), 500, 1e-9)
}

func TestScaledKeepsTheBalance(t *testing.T) {
	twice := hardTap.Scaled(2)
	if twice.GH() != 2*hardTap.GH() || twice.KH() != 2*hardTap.KH() || twice.Temperature != hardTap.Temperature {
		t.Errorf("scaled: %+v", twice)
	}
	if excess, _ := twice.ChargeImbalance(); math.Abs(float64(excess)) > 1e-12 {
		t.Errorf("scaled out of balance by %g", excess)
	}
}

// TestConstantsAreWhole: every constant has a unit and a span, and the tables do not use one name
// for two numbers of a kind.
func TestConstantsAreWhole(t *testing.T) {
	list := Constants()
	if len(list) < 200 {
		t.Fatalf("only %d constants", len(list))
	}
	for _, c := range list {
		if c.Unit == "" || c.Place == "" {
			t.Errorf("%s has unit %q, place %q", c.Name, c.Unit, c.Place)
		}
	}
}

func TestTitration(t *testing.T) {
	for _, doc := range []quantity.MgPerL{0, 5, 30} {
		c := Composition{Temperature: 25, DOC: doc, Alk: FromTitration(4, doc)}
		near(t, "KH back", float64(c.KH()), 4, 1e-9)
	}
}
