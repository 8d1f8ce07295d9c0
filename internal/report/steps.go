package report

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// steps are the ordered steps of a visit: siphon, stage, mix, check, pour, switch on, tests.
func steps(s plan.Sheet) []Step {
	var out []Step
	if s.Siphon != nil {
		out = append(out, siphon(*s.Siphon))
	}
	if d := s.Service.Due; d != nil {
		out = append(out, Step{
			Kind: StepStage, Verb: say.Sentence("sheet.stage", d), Amount: say.Sentence("sheet.stage-rinse", d),
			Notes: []string{say.Sentence(d.Code, d)},
		})
	}
	if s.Pour != nil {
		out = append(out, mix(*s.Pour))
		if st, wanted := temper(s.Pour.Temp); wanted {
			out = append(out, st)
		}
		out = append(out, checkMix(*s.Pour), Step{
			Kind: StepPour, Verb: say.Sentence("sheet.pour", s.Pour), Amount: say.Litres(s.Pour.Litres),
			Notes: []string{say.Sentence("sheet.pour-slowly", s.Pour)},
		})
		out = slices.Concat(ro(s.Pour.RO), out)
	} else {
		out = slices.Concat(ro(s.RO), out)
	}
	if len(s.Restart) > 0 {
		st := Step{Kind: StepRestart, Verb: say.Sentence("sheet.restart", s)}
		var now, later []string
		for _, r := range s.Restart {
			if r.After == 0 {
				now = append(now, say.Sentence(r.Code, r))
			} else {
				later = append(later, say.Sentence("sheet.after", afterFacts{r.After, say.Sentence(r.Code, r)}))
			}
		}
		st.Notes = append(now, later...)
		out = append(out, st)
	}
	if len(s.Tests) > 0 {
		out = append(out, tests(s))
	}
	return out
}

func ro(starts []plan.ROStart) []Step {
	var out []Step
	for _, r := range starts {
		out = append(out, Step{Kind: StepRO, Verb: say.Sentence("sheet.ro", r), Amount: say.Litres(r.Litres), Notes: []string{say.Sentence("sheet.ro-when", r)}})
	}
	return out
}

type afterFacts struct {
	After time.Duration
	What  string
}

func siphon(m plan.Siphon) Step {
	st := Step{Kind: StepSiphon, Verb: say.Sentence("sheet.siphon", m), Amount: say.Height(m.Mark)}
	st.Notes = append(st.Notes, say.Sentence("sheet.siphon-litres", m))
	if m.Stop > 0 {
		st.Notes = append(st.Notes, say.Sentence("sheet.siphon-stop", m))
	}
	if !m.NowRead {
		st.Notes = append(st.Notes, say.Sentence("sheet.siphon-unread", m))
	}
	return st
}

func mix(p plan.Pour) Step {
	st := Step{Kind: StepMix, Verb: say.Sentence("sheet.mix", p), Amount: parts(p.Parts)}
	st.Fills = sameFills(p.Vessels)
	for _, d := range p.Salts {
		st.Notes = append(st.Notes, say.Sentence("sheet.salt", d))
	}
	if d := p.Neutraliser; d != nil {
		st.Notes = append(st.Notes, say.Sentence("sheet.neutraliser", d))
		if d.Chloramine {
			st.Notes = append(st.Notes, say.Sentence("sheet.chloramine", d))
		}
	}
	for _, g := range p.Gaps {
		st.Notes = append(st.Notes, say.Sentence("sheet.gap", g))
	}
	return st
}

// sameFills words the fillings, equal ones together: "2 x bucket of 9 L: 5 L RO + 3 L tap".
func sameFills(fills []plan.VesselFill) []string {
	var order []string
	count := map[string]int{}
	for _, f := range fills {
		w := say.Sentence("sheet.vessel", vesselFacts{f.Vessel, say.Litres(f.Brim), parts(f.Parts)})
		if count[w] == 0 {
			order = append(order, w)
		}
		count[w]++
	}
	for i, w := range order {
		order[i] = strconv.Itoa(count[w]) + " x " + w
	}
	return order
}

type vesselFacts struct{ Vessel, Brim, Parts string }

func checkMix(p plan.Pour) Step {
	st := Step{Kind: StepCheck, Verb: say.Sentence("sheet.check", p)}
	reads := p.VesselMix
	if len(reads) == 0 {
		reads = p.Mix
	}
	for _, e := range reads {
		if e.Of == quantity.OfWaterTemp {
			continue // it is brought to the wanted range, not held against what the sources are
		}
		r := effectRow(e)
		note := strings.TrimSpace(r.What + " " + r.After + " " + r.Unit)
		if r.Could != "" {
			note += ", " + r.Could
		}
		st.Notes = append(st.Notes, note)
	}
	if p.Temp.Known {
		st.Amount = say.Sentence("sheet.temp", p.Temp)
	}
	st.Notes = append(st.Notes, say.Sentence("sheet.hold", p))
	return st
}

// temper brings the mix to the wanted temperature; false when it has it, or nobody knows.
func temper(t plan.Temperature) (Step, bool) {
	if t.BringTo == 0 {
		return Step{}, false
	}
	code := "sheet.warm"
	if t.OfMix > t.BringTo {
		code = "sheet.cool"
	}
	return Step{Kind: StepTemper, Verb: say.Sentence(code, t), Amount: say.Sentence("sheet.bring-to", t), Notes: []string{say.Sentence(code+"-how", t)}}, true
}

func tests(s plan.Sheet) Step {
	st := Step{Kind: StepTests, Verb: say.Sentence("sheet.tests", s)}
	for _, t := range s.Tests {
		st.Notes = append(st.Notes, say.Sentence("sheet.test", t))
	}
	return st
}
