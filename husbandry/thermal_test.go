package husbandry

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"halfwater/internal/published"
)

// Measured thermal limits of amphibians (Pottier et al. 2025, doi 10.5281/zenodo.14978243, CC BY
// 4.0) against the species table: no keeping range may reach the lowest critical maximum measured
// for its species, nor the highest critical minimum. What was found is written to the log; nothing
// in the table was moved to fit.
func TestKeepingRangesInsideThermalLimits(t *testing.T) {
	path := filepath.Join(published.Root(t), "..", "shared", "reference", "datasets", "amphitherm", "amphitherm_trim.csv")
	file, err := os.Open(path)
	if err != nil {
		t.Skip("the measured thermal limits are not here: ", err)
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range records[0] {
		column[name] = i
	}
	type limits struct {
		lowestMax, highestMin, sum float64
		maxes, mins, tprefs        int
	}
	// names that the data carry under an older genus
	older := map[string]string{"Litoria caerulea": "Ranoidea caerulea", "Dryophytes cinereus": "Hyla cinerea"}
	found := map[string]*limits{}
	for _, s := range All() {
		if s.Group.Amphibian() {
			l := &limits{lowestMax: 1e9, highestMin: -1e9}
			found[s.Scientific] = l
			if name := older[s.Scientific]; name != "" {
				found[name] = l
			}
		}
	}
	for _, r := range records[1:] {
		l := found[strings.TrimSpace(r[column["species"]])]
		x, err := strconv.ParseFloat(r[column["mean_trait"]], 64)
		if l == nil || err != nil {
			continue
		}
		switch r[column["metric"]] {
		case "CTmax":
			l.lowestMax, l.maxes = min(l.lowestMax, x), l.maxes+1
		case "CTmin":
			l.highestMin, l.mins = max(l.highestMin, x), l.mins+1
		case "Tpref":
			l.sum, l.tprefs = l.sum+x, l.tprefs+1
		}
	}
	compared := 0
	for _, s := range All() {
		l := found[s.Scientific]
		water, ok := s.WaterTemp.Get()
		if l == nil || !ok || l.maxes+l.mins+l.tprefs == 0 {
			continue
		}
		compared++
		if l.maxes > 0 {
			t.Logf("%s: water %g to %g C; critical maximum from %.1f C (%d rows), %.1f K of room", s.Scientific, water.Lo, water.Hi, l.lowestMax, l.maxes, l.lowestMax-float64(water.Hi))
			if float64(water.Hi) >= l.lowestMax {
				t.Errorf("%s: the keeping range ends at %g C, its critical maximum begins at %g", s.Scientific, water.Hi, l.lowestMax)
			}
		}
		if l.mins > 0 && float64(water.Lo) <= l.highestMin {
			t.Errorf("%s: the keeping range begins at %g C, its critical minimum ends at %g", s.Scientific, water.Lo, l.highestMin)
		}
		if l.tprefs > 0 {
			t.Logf("%s: water %g to %g C; chosen on average %.1f C (%d rows)", s.Scientific, water.Lo, water.Hi, l.sum/float64(l.tprefs), l.tprefs)
		}
	}
	if compared == 0 {
		t.Fatal("no species of the table was found in the data")
	}
	t.Logf("%d species compared", compared)
}
