package report

import (
	"io"
	"strings"
)

// EmergencyText writes the emergency page for a terminal: the first screen, then the numbers.
func EmergencyText(w io.Writer, v EmergencyView) error {
	p := &printer{w: w}
	p.firstScreen(v)
	p.list(told("before"), v.Before)
	for _, part := range v.Parts {
		p.part(part)
	}
	p.hours(v.Hours)
	p.list("These numbers rest on", v.Read)
	p.list(told("narrower"), v.Missing)
	p.blank()
	p.wrap("", v.Touch+" "+told("rests"))
	return p.err
}

func (p *printer) firstScreen(v EmergencyView) {
	head := "Emergency, " + v.When
	if v.Title != "" {
		head = v.Title + ": " + head
	}
	p.line(head)
	p.line(strings.Repeat("=", len([]rune(head))))
	p.wrapFirst("!! ", "   ", v.Warning.Text)
	p.blank()
	p.line(v.Ask)
	for _, s := range v.Signs {
		p.blank()
		p.line("* " + s.Name)
		p.wrapFirst("    ", "    ", strings.ToUpper(s.First.Text))
		if s.Number != "" {
			p.wrapFirst("    ", "    ", s.Number)
		}
		for _, a := range s.Acts[1:] {
			p.act("    - ", a)
		}
		p.wrapFirst("    ", "    ", "First act: "+s.First.Rests+".")
	}
	p.blank()
	if v.Vet.Number != "" {
		p.line(v.Vet.Ring + ": " + v.Vet.Number)
	} else {
		p.line(v.Vet.Ring + ". " + told("vet-where"))
	}
}

// act writes an act with what it rests on, where that is more than common practice.
func (p *printer) act(bullet string, a ActRow) {
	text := a.Text
	if from := a.Source(); from != "" {
		text += " (" + from + ")"
	}
	p.wrapFirst(bullet, strings.Repeat(" ", len(bullet)), text)
}

func (p *printer) part(part EmergencyPart) {
	p.title(part.Name)
	if part.Lead != "" {
		p.wrap("", part.Lead)
	}
	for _, l := range part.Now {
		p.item("-", l)
	}
	for _, d := range part.Due {
		when := d.When
		if d.Past {
			when += " (now)"
		}
		who := ""
		if d.Who != "" {
			who = " (" + d.Who + ")"
		}
		p.item("  "+when+":", d.Act.Text+who)
	}
	for _, o := range part.Offers {
		p.item("  "+o.What+":", strings.ToUpper(o.Verdict))
		p.item("      at mixing", o.AtMixing)
		p.item("      within 48 h", o.Within)
	}
	for _, r := range part.Path {
		p.item("  "+r.Day+":", r.Amount+"; then "+r.Then)
	}
	for _, l := range part.Lines {
		p.item("-", l)
	}
	for _, g := range part.Groups {
		if g.Name != "" {
			p.line("  " + g.Name + ":")
		}
		for _, a := range g.Acts {
			p.act("  - ", a)
		}
	}
}

func (p *printer) hours(h HoursView) {
	p.title(h.Head)
	p.wrap("", h.Why)
	p.wrap("", h.Made)
	for _, r := range h.Rows {
		p.blank()
		p.line(r.Temp + hoursShort(h, r))
		if !h.Nobody {
			for _, c := range r.Cells {
				until := ""
				if c.Until != "" {
					until = ", until " + c.Until
				}
				p.item("  off at "+c.Start+":", c.CountOn+until+" (more likely "+c.Could+")")
			}
		}
		if r.Cold != "" {
			p.item("  too cold for", r.Cold)
		}
	}
}

// hoursShort is a row in a few words.
func hoursShort(h HoursView, r HoursRow) string {
	if h.Nobody {
		return ""
	}
	return ": " + r.Night.CountOn + " by night, " + r.Day.CountOn + " by day"
}
