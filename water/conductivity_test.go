package water

import (
	"math"
	"sort"
	"testing"
)

// TestConductivityAgainstReferenceCode: within 5 % for 95 % of the rows of the table computed with
// the newer state of the reference code, and within 12 % always.
func TestConductivityAgainstReferenceCode(t *testing.T) {
	var off, off25 []float64
	for _, r := range referenceTable(t, "phreeqc_new_database.csv") {
		s := r.speciate(t, Model{})
		off = append(off, float64(s.EC())/r.num(t, "sc_t")-1)
		off25 = append(off25, float64(s.EC25())/r.num(t, "sc_25")-1)
		if math.Abs(off[len(off)-1]) > 0.07 {
			t.Logf("%s %s EC %.1f table %.1f off %.4f", r["id"], r["category"], s.EC(), r.num(t, "sc_t"), off[len(off)-1])
		}
	}
	for name, d := range map[string][]float64{"EC": off, "EC25": off25} {
		within, worst := 0, 0.0
		for _, x := range d {
			if math.Abs(x) <= 0.05 {
				within++
			}
			worst = max(worst, math.Abs(x))
		}
		sort.Float64s(d)
		t.Logf("%s: %d of %d within 5 %%, worst %.3f, median %+.4f", name, within, len(d), worst, d[len(d)/2])
		if within < len(d)*95/100 || worst > 0.12 {
			t.Errorf("%s: only %d of %d rows within 5 %%, worst %.3f", name, within, len(d), worst)
		}
	}
}
