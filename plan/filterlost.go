package plan

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/husbandry"
)

// resettles is for how long a filter that lost most of what lives in it is watched: nitrifiers double in one to two days at best,
// and what is left of them may be a twentieth. Judgement, no source.
const resettles = 14 * 24 * time.Hour

// filterLost says that a stage was washed hot or renewed of late: whatever else is believed, ammonia and nitrite may rise for some days.
func (v *visit) filterLost() []Concern {
	var last book.Line
	for _, l := range v.Lines {
		s, ok := l.Body.(book.Service)
		if ok && (s.RinsedIn == "hot tap" || s.RinsedIn == "replaced") && v.mine(l) && v.on.Sub(l.At) < resettles && v.biological(s.Stage) {
			last = l
		}
	}
	if last.Body == nil {
		return nil
	}
	return []Concern{{Code: "plan.filter-lost", Tier: husbandry.Watch, Chance: math.NaN(), Last: last.At, LookAgain: v.on.AddDate(0, 0, 1)}}
}

// biological reports whether what lives in a stage counts: by the book, or where no stage is written down at all.
func (v *visit) biological(name string) bool {
	for _, s := range v.Facts.Stages {
		if s.Name == name {
			return s.Biological
		}
	}
	return len(v.Facts.Stages) == 0
}
