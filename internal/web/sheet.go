package web

import (
	"net/http"
	"strconv"

	"halfwater/internal/draw"
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
)

// sheetPage is the work of one visit, step by step at the tank: one step is present, those before
// are done, those to come are lines.
type sheetPage struct {
	Base
	Work    report.View
	At      int // the present step; 0 before the work, one past the last when it is to be written down
	First   []string
	More    []string // cautions after the first few
	Before  []stepLine
	Now     *report.Step
	Next    []stepLine
	Button  string // of the present step
	Staff   *draw.Staff
	Vessels draw.Vessels
	Minis   []report.Mini
	Write   *lineForm // the change, to be written down
}

// stepLine is a step that is done or to come.
type stepLine struct {
	Number       int
	Verb, Amount string
}

// paperPage is the whole sheet on one leaf.
type paperPage struct {
	Base
	Work report.View
	Held string
}

var (
	sheetTemplate = inFrame("page/sheet/sheet.tmpl", "page/sheet/paper.tmpl", "page/reading/form.tmpl")
	paperTemplate = inFrame("page/sheet/print.tmpl", "page/sheet/paper.tmpl")
)

// cautionsAtOnce is how many cautions stand before the button at the tank, the gravest first; the
// others are one touch away, and all are on paper.
const cautionsAtOnce = 3

func (s *site) showSheet(w http.ResponseWriter, r *http.Request) error {
	l, shown, err := s.today(w, r)
	if err != nil || shown {
		return err
	}
	at, err := step(r)
	if err != nil {
		return err
	}
	return show(w, http.StatusOK, sheetTemplate, s.sheetAt(l, at))
}

// step is the number of the step that was asked for; 0 when none was.
func step(r *http.Request) (int, error) {
	text := r.URL.Query().Get("step")
	if text == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return 0, &keeper.Fault{Kind: keeper.Missing, Field: "step", Say: say.Sentence("door.no-step", text)}
	}
	return n, nil
}

// sheetAt lays out a sheet with one step present.
func (s *site) sheetAt(l keeper.Look, at int) sheetPage {
	v := report.Sheet(l.Sheet)
	p := sheetPage{Base: s.base(l.Standing, PageSheet), Work: v, At: min(at, len(v.Steps)+1)}
	p.Kind = AtTank
	p.First = v.Cautions[:min(cautionsAtOnce, len(v.Cautions))]
	p.More = v.Cautions[len(p.First):]
	for i, st := range v.Steps {
		switch line := (stepLine{i + 1, st.Verb, st.Amount}); {
		case i+1 < p.At:
			p.Before = append(p.Before, line)
		case i+1 > p.At:
			p.Next = append(p.Next, line)
		default:
			p.Now = &v.Steps[i]
		}
	}
	p.When = say.Sentence("sheet.at", [2]int{p.At, len(v.Steps)})
	if p.Now != nil {
		p.Button = say.Sentence("sheet.done-"+string(p.Now.Kind), p.Now)
		switch p.Now.Kind {
		case report.StepSiphon:
			staff := report.Staff(*l.Sheet.Siphon)
			p.Staff = &staff
		case report.StepMix:
			p.Vessels = report.Vessels(*l.Sheet.Pour, l.Facts)
			p.Minis = report.Minis(l.Sheet, l.Belief, l.Facts)
		}
	}
	if p.At > len(v.Steps) && len(v.Steps) > 0 {
		p.Write = formOf("change", l.Facts)
		p.Write.fill(report.Poured(l.Sheet))
	}
	return p
}

// All is the number of steps.
func (p sheetPage) All() int { return len(p.Work.Steps) }

// Following is the number of the step after the present one, Previous that of the one before.
func (p sheetPage) Following() int { return p.At + 1 }

// Previous is the number of the step before the present one.
func (p sheetPage) Previous() int { return p.At - 1 }

// showPaper shows the sheet as it prints: everything on one A4.
func (s *site) showPaper(w http.ResponseWriter, r *http.Request) error {
	l, shown, err := s.today(w, r)
	if err != nil || shown {
		return err
	}
	p := paperPage{Base: s.base(l.Standing, PageSheet), Work: report.Sheet(l.Sheet), Held: report.HeldWords(report.Water(l.Name(), l.Belief, l.Lines))}
	return show(w, http.StatusOK, paperTemplate, p)
}
