package enclosure

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"halfwater/quantity"
)

// Question of the keeper: 190 L/d rated at 25 C, water of 10 C, 73 % of the rated pressure: 88 L/d, so
// 25 L take 6.8 h, with 75 L of reject at 3:1.
func TestWhenToStartTheROUnit(t *testing.T) {
	unit := Fitting{Name: "RO unit", What: ROUnit, Rated: 190, RatedTemp: 25, PressureShare: 0.73, RejectRatio: 3}
	p, err := unit.Production(10)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(float64(p.Rate.Median)-88) > 1 || p.Learnt || len(p.Missing) != 0 {
		t.Errorf("%+v", p)
	}
	usual, atMost := p.Takes(25)
	if usual < 6*time.Hour || usual > 7*time.Hour+30*time.Minute || atMost <= usual {
		t.Errorf("25 L take %v, at most %v", usual, atMost)
	}
	if p.Reject(25) != 75 {
		t.Errorf("reject %v", p.Reject(25))
	}
	// A litre timed at 14 C in 15 minutes is 96 L/d there and 85 at 10 C; the label no longer counts.
	p, err = unit.Production(10, TimedLitre{Litres: 1, Seconds: 900, Temp: 14, Reject: 4})
	if err != nil {
		t.Fatal(err)
	}
	if want := 96 * math.Exp(-0.12); !p.Learnt || math.Abs(float64(p.Rate.Median)-want) > 0.01 || p.RejectRatio != 4 {
		t.Errorf("learnt %+v, want %g", p, want)
	}
}

func TestROUnitNamesWhatIsMissing(t *testing.T) {
	var unrated ROUnrated
	bare := Fitting{Name: "RO unit", What: ROUnit}
	if err := bare.Check(); err != nil {
		t.Errorf("a unit without rating is allowed: %v", err)
	}
	if got := bare.Missing(); len(got) != 3 {
		t.Errorf("missing %v", got)
	}
	if _, err := bare.Production(10); !errors.As(err, &unrated) {
		t.Errorf("%v", err)
	}
	var not NotAnROUnit
	if _, err := (Fitting{Name: "h", What: Heater}).Production(10); !errors.As(err, &not) {
		t.Errorf("%v", err)
	}
	bare.Rated = 190
	p, err := bare.Production(10)
	if err != nil || strings.Join(p.Missing, " ") != "enclosure.ro-reject enclosure.ro-pressure" {
		t.Errorf("%+v %v", p, err)
	}
}

// Question of the keeper: a dose for the 120 L of the label in a box that holds 78 L is 54 % too much.
func TestGrossVolumeIsRefusedForDosing(t *testing.T) {
	h := HeldEstimate{Held: lnBand[quantity.HeldLitres](78, 0.06)}
	label, err := LabelSize(120, "L")
	if err != nil {
		t.Fatal(err)
	}
	var gross GrossForDose
	if _, err := h.DoseLitres(label); !errors.As(err, &gross) || math.Abs(float64(gross.Overdose)-0.54) > 0.005 {
		t.Errorf("%v", err)
	}
	if l, err := h.DoseLitres(0); err != nil || l != 78 {
		t.Errorf("%v %v", l, err)
	}
	var which WhichGallon
	if _, err := LabelSize(30, "gal"); !errors.As(err, &which) || math.Abs(float64(which.Imperial/which.US)-1.201) > 0.001 {
		t.Errorf("%v", err)
	}
	if us, err := LabelSize(30, "US gal"); err != nil || math.Abs(float64(us)-113.56) > 0.01 {
		t.Errorf("%v %v", us, err)
	}
}

func TestTracerNeedsTheRightStock(t *testing.T) {
	h, err := HeldWater(Geometry{Basin: &Basin{Length: 800, Width: 350, Height: 400, FullMark: 300, LandShare: 0.2}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var refused TracerRefused
	if _, err := h.PlanTracer(riverbank, 400); !errors.As(err, &refused) || refused.Batch != "frogs" {
		t.Errorf("%v", err)
	}
	if _, err := h.PlanTracer([]Batch{{Name: "two", Count: 2}}, 400); !errors.As(err, &refused) {
		t.Errorf("%v", err)
	}
	fish := []Batch{{Name: "danios", Species: "Danio rerio", Count: 8}}
	plan, err := h.PlanTracer(fish, 400)
	if err != nil {
		t.Fatal(err)
	}
	if plan.Rise != 60 || plan.LnSD < 0.04 || plan.LnSD > 0.1 {
		t.Errorf("%+v", plan)
	}
	// Dissolved in 70 L the planned grams come back as 70 L.
	rise := plan.Salt.Milligrams() / 70 * 2.03
	if got := plan.Found(plan.Salt, 400, quantity.Conductivity(400+rise)); math.Abs(float64(got.Median)-70) > 1e-6 {
		t.Errorf("found %+v", got)
	}
	var unknown HeldUnknown
	if _, err := (HeldEstimate{}).PlanTracer(fish, 400); !errors.As(err, &unknown) {
		t.Errorf("%v", err)
	}
}
