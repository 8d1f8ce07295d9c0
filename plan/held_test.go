package plan_test

import (
	"strings"
	"testing"

	"halfwater/enclosure"
	"halfwater/internal/say"
	"halfwater/plan"
)

// A sheet without a pour sends nobody to its steps.
func TestNoStepsWithoutAPour(t *testing.T) {
	d := about()
	d.NO2 = 2
	f := riverbank()
	for _, pours := range []bool{true, false} {
		if !pours {
			f.Sources = []enclosure.SourceWater{}
		}
		s := write(exactly(d), f)
		c, ok := concern(s, "plan.nitrite-act")
		if !ok || (s.Pour != nil) != pours {
			t.Fatalf("pours %v: %+v", s.Pour, s.Concerns)
		}
		said := say.Sentence(c.Code, c)
		if strings.Contains(said, "steps of this sheet") != pours || strings.Contains(said, "[plan") {
			t.Errorf("with a pour %v it says %q", pours, said)
		}
		if _, held := s.HeldBack(); held == pours {
			t.Errorf("with a pour %v held back is %v", pours, held)
		}
	}
	for code, want := range map[string]bool{
		"plan.step-too-large": true, "plan.ammonia-no-step": true, "plan.no-source": true, "plan.level-too-low": true, "plan.source-unusable": true,
		"plan.nearer-blend": false, "plan.salt-no-hardness": false, "plan.stop-line": false,
	} {
		if _, held := (plan.Sheet{Refused: []plan.Refused{{Code: code}}}).HeldBack(); held != want {
			t.Errorf("%s held back is %v", code, held)
		}
	}
}
