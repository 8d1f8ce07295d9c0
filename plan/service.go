package plan

import (
	"strings"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/quantity"
)

// served is what the book says of one stage.
type served struct {
	stage enclosure.Stage
	last  time.Time      // service
	flow  quantity.Share // of clean, timed since that service; 0 when not
}

// service says which stage is serviced today, which are left alone, and what should not share a day.
func (v *visit) service(s *Sheet) Service {
	var out Service
	stages, lastBio, bioToday := v.served()
	large := s.Pour != nil && s.Pour.Share > largeChange
	due := -1
	for i, st := range stages {
		if !st.due(v.on) || st.stage.Carbon {
			continue
		}
		if due < 0 || st.moreThan(stages[due]) {
			due = i
		}
	}
	today := map[string]bool{"bio": bioToday > 0, "bed": v.bedToday(), "carbon": v.carbonToday(), "change": large}
	leave := func(st served, code string, until time.Time) {
		out.Leave = append(out.Leave, StageLeft{Stage: st.stage.Name, Code: code, Until: until})
	}
	day := func(from time.Time, days int) time.Time { return from.AddDate(0, 0, days) }
	if due >= 0 {
		st := stages[due]
		rest := restDays
		if st.flow > 0 && len(v.filterLost()) == 0 {
			rest = leastRest
		}
		switch free := day(lastBio, rest); {
		case st.stage.Biological && !lastBio.IsZero() && free.After(v.on):
			leave(st, "plan.stage-rest", free)
		case st.stage.Biological && large && !(st.flow > 0 && st.flow < pressingFlow):
			leave(st, "plan.stage-large-change", day(v.on, leastRest))
		case st.stage.Biological && today["bed"]:
			leave(st, "plan.stage-after-bed", day(v.on, leastRest))
		default:
			d := StageDue{Stage: st.stage.Name, FlowShare: st.flow, Last: st.last, RinseIn: "tank water", Code: "plan.stage-age"}
			if st.flow > 0 {
				d.Code = "plan.stage-flow"
			}
			out.Due = &d
			if st.stage.Biological {
				today["bio"] = true
				bioToday++
			}
		}
	}
	for i, st := range stages {
		switch {
		case i == due:
		case st.stage.Carbon:
			if out.Due != nil || large || today["bed"] {
				leave(st, "plan.carbon-own-day", day(v.on, leastRest))
			}
		case st.stage.Biological && out.Due != nil && today["bio"]:
			leave(st, "plan.stage-after-other", day(v.on, restDays))
		case st.stage.Biological && !lastBio.IsZero() && day(lastBio, restDays).After(v.on):
			code := "plan.stage-rest"
			if st.last.Equal(lastBio) {
				code = "plan.stage-served"
			}
			leave(st, code, day(lastBio, restDays))
		case st.flow >= serviceFlow:
			leave(st, "plan.stage-flow-fine", time.Time{})
		}
	}
	out.Stacked = stacked(today, bioToday)
	return out
}

func (s served) due(on time.Time) bool {
	if s.flow > 0 {
		return s.flow < serviceFlow
	}
	medium := strings.ToLower(s.stage.Medium)
	straining := strings.Contains(medium, "sponge") || strings.Contains(medium, "floss") || strings.Contains(medium, "wool")
	return straining && !s.last.IsZero() && on.Sub(s.last) > ageFor
}

// moreThan reports whether a is more due than b: by flow before by age, the lower flow first.
func (s served) moreThan(b served) bool {
	switch {
	case s.flow > 0 && b.flow > 0:
		return s.flow < b.flow
	case s.flow > 0 || b.flow > 0:
		return s.flow > 0
	}
	return s.last.Before(b.last)
}

// served reads services and timed jugs from the book, the last biological service, and how many
// biological stages were serviced on the day of the visit.
func (v *visit) served() (stages []served, lastBio time.Time, bioToday int) {
	at := map[string]int{}
	for _, st := range v.Facts.Stages {
		at[st.Name] = len(stages)
		stages = append(stages, served{stage: st})
	}
	for _, l := range v.Lines {
		if !v.mine(l) {
			continue
		}
		switch b := l.Body.(type) {
		case book.Service:
			i, ok := at[b.Stage]
			if !ok {
				continue
			}
			stages[i].last, stages[i].flow = l.At, 0
			if !stages[i].stage.Biological {
				continue
			}
			if v.sameDay(l.At) {
				bioToday++
			} else {
				lastBio = l.At
			}
		case book.TimedJug:
			i, ok := at[b.Stage]
			if !ok || !(b.Seconds > 0) || !(b.Litres > 0) || stages[i].stage.CleanJug <= 0 || stages[i].stage.Jug <= 0 {
				continue
			}
			clean := float64(stages[i].stage.Jug) / stages[i].stage.CleanJug.Seconds()
			stages[i].flow = quantity.Share(float64(b.Litres) / b.Seconds / clean)
		}
	}
	return stages, lastBio, bioToday
}

func (v *visit) sameDay(t time.Time) bool {
	y, m, d := t.In(v.on.Location()).Date()
	yy, mm, dd := v.on.Date()
	return y == yy && m == mm && d == dd
}

// bedToday and carbonToday look for what the day already saw: more than a quarter of the bed, a
// carbon stage that carries biofilm.
func (v *visit) bedToday() bool {
	for _, l := range v.Lines {
		if c, ok := l.Body.(book.Change); ok && v.mine(l) && v.sameDay(l.At) && c.BedShare > quarterBed {
			return true
		}
	}
	return false
}

func (v *visit) carbonToday() bool {
	for _, st := range v.Facts.Stages {
		if !st.Carbon {
			continue
		}
		var before time.Time
		today := false
		for _, l := range v.Lines {
			if b, ok := l.Body.(book.Service); ok && v.mine(l) && b.Stage == st.Name {
				if v.sameDay(l.At) {
					today = true
				} else {
					before = l.At
				}
			}
		}
		if today && (st.Biological || before.IsZero() || v.on.Sub(before) > filmFor) {
			return true
		}
	}
	return false
}

// stacked are the pairs of acts of one day whose effects could not be told apart.
func stacked(today map[string]bool, bio int) []Stacked {
	var out []Stacked
	if bio > 1 {
		out = append(out, Stacked{Acts: []string{"bio", "bio"}, Code: "plan.stacked-bio-bio"})
	}
	acts := []string{"bio", "bed", "carbon", "change"}
	for i, a := range acts {
		for _, b := range acts[i+1:] {
			if today[a] && today[b] {
				out = append(out, Stacked{Acts: []string{a, b}, Code: "plan.stacked-" + a + "-" + b})
			}
		}
	}
	return out
}
