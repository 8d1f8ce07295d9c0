package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
)

// Text writes a work sheet for a terminal or a printer, 78 columns wide.
func Text(w io.Writer, v View) error {
	p := &printer{w: w}
	head := v.Title + ": work sheet for " + v.When
	p.line(head)
	p.line(strings.Repeat("=", len([]rune(head))))
	p.wrap("", v.Act)
	if v.Why != "" {
		p.wrap("", v.Why)
	}
	for _, c := range v.Concerns {
		if c.Tier != "carry on" {
			p.blank()
			p.wrap("  ", concernLine(c))
		}
	}
	if len(v.Cautions) > 0 {
		p.title("Before you begin")
		for _, c := range v.Cautions {
			p.item("!", c)
		}
	}
	for i, s := range v.Steps {
		p.blank()
		p.wrap("   ", strings.TrimSpace(fmt.Sprintf("%d. %s %s", i+1, s.Verb, s.Amount)))
		for _, n := range slices.Concat(s.Fills, s.Notes) {
			p.item("  -", n)
		}
	}
	p.list("Not in one visit: the path", pathLines(v.Path))
	p.list("Not today", v.NotToday)
	p.effects(v.Effects)
	p.list("Held back, and why", v.Refused)
	p.list("What would help", v.Missing)
	p.carryOn(v.Concerns)
	return p.err
}

func concernLine(c ConcernRow) string {
	out := strings.ToUpper(c.Tier) + ": " + c.Text
	if c.Odds.Words != "" {
		out += " (" + c.Odds.Words + ")"
	}
	if c.LookAgain != "" {
		out += " Look again: " + c.LookAgain + "."
	}
	return out
}

func pathLines(path []PathRow) []string {
	var out []string
	for _, r := range path {
		out = append(out, r.Day+": "+r.Amount+"; then "+r.Then)
	}
	return out
}

type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(s string) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.w, strings.TrimRight(s, " "))
	}
}

func (p *printer) blank() { p.line("") }

func (p *printer) title(s string) { p.blank(); p.line(s) }

func (p *printer) item(bullet, s string) {
	p.wrapFirst(bullet+" ", strings.Repeat(" ", len(bullet)+1), s)
}

func (p *printer) wrap(indent, s string) { p.wrapFirst("", indent, s) }

func (p *printer) wrapFirst(first, rest, s string) {
	const width = 78
	line := first
	n := 0
	for _, word := range strings.Fields(s) {
		if n > 0 && len([]rune(line))+1+len([]rune(word)) > width {
			p.line(line)
			line, n = rest, 0
		}
		if n > 0 {
			line += " "
		}
		line += word
		n++
	}
	p.line(line)
}

func (p *printer) list(title string, items []string) {
	if len(items) == 0 {
		return
	}
	p.title(title)
	for _, s := range items {
		p.item("-", s)
	}
}

func (p *printer) effects(rows []EffectRow) {
	if len(rows) == 0 {
		return
	}
	p.title("What the visit will do")
	t := tabwriter.NewWriter(p.w, 2, 0, 2, ' ', 0)
	for _, r := range rows {
		could := r.Could
		if r.Within48h != "" {
			could = strings.TrimPrefix(could+"; within 48 h up to "+r.Within48h, "; ")
		}
		move := r.Before + " -> " + r.After
		if r.Before == r.After && r.Could == "" {
			move = "stays " + r.After
		}
		fmt.Fprintf(t, "  %s\t%s %s\t%s\t%s\n", r.What, move, r.Unit, could, r.Tier)
	}
	if err := t.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}

func (p *printer) carryOn(rows []ConcernRow) {
	var out []string
	for _, c := range rows {
		if c.Tier == "carry on" {
			out = append(out, c.Text)
		}
	}
	p.list("Carry on", out)
}
