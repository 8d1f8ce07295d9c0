package files

import (
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
)

// factDraft is a table on its way to a line.
type factDraft struct {
	table
	book.Line
	known bool
}

// ReadEnclosure reads an enclosure file (TOML). Import.Lines are the facts that differ from those in
// force on their day (Options.Have), Import.Known counts the others. What is wrong with a table is in
// Import.Faults; the error is about the file as a whole.
func ReadEnclosure(r io.Reader, o Options) (*Import, error) {
	tables, err := readTables(r, o)
	if err != nil {
		return nil, err
	}
	im := &Import{}
	bad := func(line int, key string, err error) { im.Faults = append(im.Faults, RowFault{line, key, err}) }
	top := tables[0]
	for _, k := range top.keys {
		if k.name != "from" && k.name != "water" {
			bad(k.line, k.name, fmt.Errorf("is not known here: at the top there may be from and water; the rest goes into tables such as [basin]"))
		}
	}
	var drafts []*factDraft
	for _, t := range tables[1:] {
		d, faults := readFact(t, top, o)
		im.Faults = append(im.Faults, faults...)
		if d != nil {
			drafts = append(drafts, d)
		}
	}
	slices.SortStableFunc(drafts, func(a, b *factDraft) int {
		if c := a.At.Compare(b.At); c != 0 {
			return c
		}
		return special(a.Line) - special(b.Line) // what holds for all is said first
	})
	names := namer(o)
	lines := slices.Clone(o.Have)
	said := newSaid(o)
	for _, d := range drafts {
		d.ID = names()
		if err := d.Line.Check(o.Now); err != nil {
			bad(d.line, "["+d.name+"]", err)
			continue
		}
		if said.already(d.Line) {
			d.known = true
			im.Known++
			continue
		}
		said.add(d.Line)
		lines = append(lines, d.Line)
		im.Lines = append(im.Lines, d.Line)
	}
	ground := groundOf(lines, o.Now)
	for _, d := range drafts {
		if d.known {
			continue
		}
		if err := d.Refers(ground.under(d.Line), func(book.ID) bool { return true }); err != nil {
			bad(d.line, "["+d.name+"]", err)
		} else if err := d.Fits(enclosure.Facts{}); err != nil { // a fact is bounded by itself alone
			bad(d.line, "["+d.name+"]", err)
		}
	}
	slices.SortStableFunc(im.Faults, func(a, b RowFault) int { return a.Line - b.Line })
	return im, nil
}

func special(l book.Line) int {
	if l.Water == book.AllWaters {
		return 0
	}
	return 1
}

// ground is what lines may lean on: the facts through time.
type ground struct {
	inForce *book.Timeline
	ever    *book.Timeline // as if no fact ever ended, for the end itself
}

func groundOf(lines []book.Line, recorded time.Time) ground {
	begins := slices.DeleteFunc(slices.Clone(lines), func(l book.Line) bool {
		_, ends := l.Body.(enclosure.Retired)
		return ends
	})
	return ground{book.TimelineOf(lines, recorded), book.TimelineOf(begins, recorded)}
}

// under are the facts that a line may name: those in force at its time, for the end of a fact those
// that have begun, and for a fact of the whole enclosure those of any water body.
func (g ground) under(l book.Line) enclosure.Facts {
	t := g.inForce
	if _, ends := l.Body.(enclosure.Retired); ends {
		t = g.ever
	}
	if l.Water == book.AllWaters {
		return t.Anywhere(l.At)
	}
	return t.At(l.Water, l.At)
}

// readFact reads what a table says by itself.
func readFact(t, top table, o Options) (*factDraft, []RowFault) {
	var faults []RowFault
	bad := func(line int, key string, err error) { faults = append(faults, RowFault{line, key, err}) }
	kind := strings.ReplaceAll(t.name, "_", " ")
	if !slices.Contains(factKinds(), kind) {
		var known []string
		for _, k := range factKinds() {
			known = append(known, tableName(k))
		}
		bad(t.line, "["+t.name+"]", fmt.Errorf("is not known: write %s", oneOf(near(t.name, known), known)))
		return nil, faults
	}
	s, _ := shapeOf(kind)
	d := &factDraft{table: t, Line: book.Line{Recorded: o.Now.UTC().Truncate(time.Microsecond), By: book.Keeper}}
	body := reflect.New(s.typ).Elem()
	given, beside := map[string]bool{}, map[string]string{}
	lines := map[string]int{}
	places := map[string]string{}
	for _, k := range t.keys {
		lines[k.name] = k.line
		switch {
		case k.name == "from" || k.name == "water":
			continue
		case slices.Contains(besides[kind], k.name):
			text, ok := k.value.(string)
			if !ok {
				bad(k.line, k.name, fmt.Errorf("write a text in quotation marks"))
			}
			beside[k.name] = text
			continue
		}
		sp, ok := s.names[k.name]
		if !ok {
			known := slices.Concat(s.known(), besides[kind], []string{"from", "water"})
			bad(k.line, k.name, fmt.Errorf("is not known in [%s]: write %s", t.name, oneOf(near(k.name, known), known)))
			continue
		}
		place := fmt.Sprint(sp.path)
		if other, twice := places[place]; twice {
			bad(k.line, k.name, fmt.Errorf("says the same as %s: keep one of the two", other))
			continue
		}
		places[place] = k.name
		if err := sp.put(body, k.value); err != nil {
			bad(k.line, k.name, err)
			continue
		}
		given[k.name] = true
	}
	if len(faults) == 0 {
		if err := settle(body, given, beside); err != nil {
			line := t.line
			if f, ok := err.(KeyFault); ok && lines[f.Key] != 0 {
				line = lines[f.Key]
			}
			bad(line, "", err)
		}
	}
	d.Body = body.Interface().(book.Body)
	if err := d.place(top); err != nil {
		bad(t.line, "["+t.name+"]", err)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return d, nil
}

// place finds from when and for which water body the fact holds: its own keys, or those at the top.
func (d *factDraft) place(top table) error {
	from, ok := d.get("from")
	if !ok {
		if from, ok = top.get("from"); !ok {
			return fmt.Errorf("has no from: say since when it holds, like from = 2026-05-24")
		}
	}
	when, ok := from.value.(time.Time)
	if !ok {
		return fmt.Errorf("has a from that is no day: write it without quotation marks, like from = 2026-05-24")
	}
	d.At = when.UTC().Truncate(time.Microsecond)
	water, ok := d.get("water")
	if !ok {
		water, ok = top.get("water")
	}
	name, isText := water.value.(string)
	switch {
	case !ok:
		d.Water = book.WaterOf(d.Body)
	case !isText || name == "":
		return fmt.Errorf("has a water that is no name: write water = \"main\", \"tub\" or \"all\"")
	case name == "all":
		d.Water = book.AllWaters
	default:
		d.Water = name
	}
	return nil
}

// said knows what facts say of one thing through time, to tell what is new.
type said map[string][]book.Line // by thing, in the order of the book

func newSaid(o Options) said {
	s := said{}
	for _, l := range book.Standing(o.Have, o.Now) {
		if _, ok := l.Body.(enclosure.Fact); ok {
			s.add(l)
		}
	}
	return s
}

// thing is what a fact is about; an end is about what it ends.
func thing(b book.Body) string {
	f := b.(enclosure.Fact)
	if _, ends := f.(enclosure.Retired); ends {
		return f.Key()
	}
	return f.Kind() + "/" + f.Key()
}

func (s said) add(l book.Line) {
	t := thing(l.Body)
	s[t] = append(s[t], l)
	book.Sort(s[t])
}

// already reports whether a fact is in force on its day without saying it again.
func (s said) already(l book.Line) bool {
	var last book.Line
	found, overruled := false, false
	for _, have := range s[thing(l.Body)] {
		if have.At.After(l.At) {
			break
		}
		switch {
		case have.Water == l.Water, have.Water == book.AllWaters:
			last, found, overruled = have, true, false
		case l.Water == book.AllWaters && have.At.Before(l.At):
			overruled = true // one water body went its own way
		}
	}
	if !found {
		_, ends := l.Body.(enclosure.Retired)
		return ends && !overruled
	}
	return !overruled && sameBody(last.Body, l.Body)
}

func sameBody(a, b book.Body) bool {
	if a.Kind() != b.Kind() {
		return false
	}
	x, errX := EncodeBody(a)
	y, errY := EncodeBody(b)
	return errX == nil && errY == nil && x == y
}
