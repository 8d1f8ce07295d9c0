package files

import (
	"bufio"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
)

// WriteEnclosure writes the facts of a book as an enclosure file (TOML): every fact that stands, with
// the day from which it holds, as known at a moment. Reading it into an empty book gives the same
// facts at every moment; reading it into the same book changes nothing. zone decides which moments are
// the begin of a day.
func WriteEnclosure(w io.Writer, lines []book.Line, recorded time.Time, zone *time.Location) error {
	if zone == nil {
		zone = time.UTC
	}
	byKind := map[string][]book.Line{}
	for _, l := range lastWords(book.Standing(lines, recorded)) {
		byKind[l.Body.Kind()] = append(byKind[l.Body.Kind()], l)
	}
	out := bufio.NewWriter(w)
	first := true
	for _, kind := range factKinds() {
		for _, l := range byKind[kind] {
			if !first {
				fmt.Fprintln(out)
			}
			first = false
			if err := writeFact(out, l, zone); err != nil {
				return err
			}
		}
	}
	return out.Flush()
}

// lastWords drops facts that another one replaces at the very moment they begin: for the same water
// body, or for all of them. The last word takes the place of the first, so that the order of things
// stays.
func lastWords(lines []book.Line) []book.Line {
	var out []book.Line
	for _, l := range lines {
		if _, ok := l.Body.(enclosure.Fact); !ok {
			continue
		}
		replaced := func(old book.Line) bool {
			return old.At.Equal(l.At) && (old.Water == l.Water || l.Water == book.AllWaters) && thing(old.Body) == thing(l.Body)
		}
		i := slices.IndexFunc(out, replaced)
		if i < 0 {
			out = append(out, l)
			continue
		}
		out[i] = l
		out = slices.Concat(out[:i+1], slices.DeleteFunc(out[i+1:], replaced))
	}
	return out
}

func writeFact(out *bufio.Writer, l book.Line, zone *time.Location) error {
	s, ok := shapeOf(l.Body.Kind())
	if !ok {
		return fmt.Errorf("the kind %q is not registered", l.Body.Kind())
	}
	fmt.Fprintf(out, "[[%s]]\nfrom = %s\n", tableName(s.kind), day(l.At, zone))
	if l.Water != book.WaterOf(l.Body) {
		water := l.Water
		if water == book.AllWaters {
			water = "all"
		}
		fmt.Fprintf(out, "water = %s\n", quote(water))
	}
	if r, ok := l.Body.(enclosure.RangeWanted); ok {
		writeRange(out, r)
		return nil
	}
	body := reflect.ValueOf(l.Body)
	counts := false
	for _, f := range s.fields {
		name, raw, ok := f.take(body)
		if !ok {
			continue
		}
		fmt.Fprintf(out, "%s = %s\n", name, tomlText(raw, zone))
		if _, needs := perElement[f.typ]; needs {
			counts = true
		}
	}
	if counts {
		fmt.Fprintf(out, "basis = \"as N\"\n")
	}
	return nil
}

// writeRange writes both ends that are not open, zero too, in the book's own unit.
func writeRange(out *bufio.Writer, r enclosure.RangeWanted) {
	fmt.Fprintf(out, "of = %s\n", quote(string(r.Of)))
	lo, hi := number(r.Range.Lo), number(r.Range.Hi)
	if lo != "-inf" || hi == "inf" {
		fmt.Fprintf(out, "lo = %s\n", lo)
	}
	if hi != "inf" {
		fmt.Fprintf(out, "hi = %s\n", hi)
	}
	fmt.Fprintf(out, "unit = %s\n", quote(r.Of.Unit()))
	if bases := r.Of.Bases(); len(bases) > 0 {
		fmt.Fprintf(out, "basis = %s\n", quote(string(bases[0]))) // the element
	}
	if r.Reason != "" {
		fmt.Fprintf(out, "reason = %s\n", quote(r.Reason))
	}
}

// day writes a moment as a day when it is the begin of one.
func day(t time.Time, zone *time.Location) string {
	here := t.In(zone)
	if begin, err := time.ParseInLocation(time.DateOnly, here.Format(time.DateOnly), zone); err == nil && begin.Equal(here) {
		return here.Format(time.DateOnly)
	}
	return t.UTC().Format(time.RFC3339Nano)
}

func tomlText(raw any, zone *time.Location) string {
	switch r := raw.(type) {
	case string:
		return quote(r)
	case time.Time:
		return day(r, zone)
	case []any:
		var parts []string
		for _, one := range r {
			parts = append(parts, tomlText(one, zone))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return text(raw)
}

// quote writes a TOML basic string.
func quote(s string) string {
	var out strings.Builder
	out.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			out.WriteRune('\\')
			out.WriteRune(r)
		case r == '\n':
			out.WriteString(`\n`)
		case r == '\r':
			out.WriteString(`\r`)
		case r == '\t':
			out.WriteString(`\t`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&out, `\u%04X`, r)
		default:
			out.WriteRune(r)
		}
	}
	out.WriteByte('"')
	return out.String()
}
