package report

import (
	"math"
	"reflect"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// BookLine is one line of the book in words.
type BookLine struct {
	ID        string
	Day, Hour string // "Sunday 22 November 2026", "09:25"
	Kind      string // "reading", "source water"
	Says      string
	Fact      bool   // it holds from its day on
	Unread    bool   // of a kind that this version does not know
	Withdrawn bool   // by a later line
	SetAside  string // why it is set aside; "set aside" without a reason
	Late      string // when it was recorded, if that was another day
	By        string // who wrote it, if it was not the keeper
	Water     string // the water body, if it is not the main one
}

// Doubted reports whether the line does not count in what is believed.
func (l BookLine) Doubted() bool { return l.Withdrawn || l.SetAside != "" }

// BookLines puts lines of a book into words, in the order given; all are the lines of that book,
// and at is the moment of knowledge.
func BookLines(lines, all []book.Line, at time.Time) []BookLine {
	standing := map[book.ID]bool{}
	for _, l := range book.Standing(all, at) {
		standing[l.ID] = true
	}
	aside := book.SetAsides(all, at)
	byID := map[book.ID]book.Line{}
	for _, l := range all {
		byID[l.ID] = l
	}
	var out []BookLine
	for _, l := range lines {
		when := l.At.In(at.Location())
		b := BookLine{
			ID: string(l.ID), Day: say.Day(when), Hour: when.Format("15:04"), Kind: l.Body.Kind(), Says: saysOf(l.Body, byID),
			Withdrawn: !standing[l.ID],
		}
		_, b.Fact = l.Body.(enclosure.Fact)
		_, b.Unread = l.Body.(book.Unread)
		if s, ok := aside[l.ID]; ok {
			if b.SetAside = s.Reason; b.SetAside == "" {
				b.SetAside = say.Sentence("line.no-reason", nil)
			}
		}
		if rec := l.Recorded.In(at.Location()); rec.Sub(l.At) > lateAfter {
			b.Late = say.Day(rec)
		}
		if l.By != book.Keeper {
			b.By = string(l.By)
		}
		if l.Water != book.MainWater && l.Water != book.AllWaters {
			b.Water = l.Water
		}
		out = append(out, b)
	}
	return out
}

// lateAfter is how long after the event a line is worth the word that it came late. Judgement.
const lateAfter = 36 * time.Hour

// saysOf is the sentence of a kind that has one, else its fields in words.
func saysOf(b book.Body, byID map[book.ID]book.Line) string {
	switch v := b.(type) {
	case book.Unread:
		return say.Sentence("line.unread", v)
	case book.Withdraw:
		return ofLine(say.Sentence("line.withdraw", v), v.Line, byID)
	case book.SetAside:
		return ofLine(say.Sentence("line.set-aside", v), v.Line, byID)
	case book.Reading:
		return strings.Join(strings.Fields(say.Sentence("line.reading", v)), " ")
	case book.Note:
		return v.Text
	case book.Incident:
		return say.Sentence("emergency.time-incident", v)
	case book.Change:
		return commas(say.Sentence("line.change", v))
	case book.TopUp:
		return say.Sentence("line.top-up", v)
	case book.Feed:
		return commas(say.Sentence("line.feed", v))
	case book.Service:
		return commas(say.Sentence("line.service", v))
	case book.LevelTest:
		return say.Sentence("line.level-test", v)
	case book.ShownOutlook:
		return shownOutlook(v)
	}
	words := fields(reflect.ValueOf(b))
	if f, ok := b.(enclosure.Fact); ok && f.Key() != "" {
		return strings.TrimSuffix(f.Key()+": "+strings.TrimPrefix(words, "name "+f.Key()+", "), ": ")
	}
	return words
}

// shownOutlook says how far an outlook looked, and what it held likely at its end.
func shownOutlook(o book.ShownOutlook) string {
	f := struct {
		To  time.Time
		End []book.ShownBand
	}{}
	for _, b := range o.Bands {
		if b.On.After(f.To) {
			f.To, f.End = b.On, nil
		}
		if b.On.Equal(f.To) {
			f.End = append(f.End, b)
		}
	}
	return say.Sentence("line.shown-outlook", f)
}

// commas tidies a sentence whose parts were left out.
func commas(s string) string {
	var out []string
	for _, part := range strings.Split(s, "|") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return strings.Join(out, ", ")
}

// ofLine adds which line is meant.
func ofLine(words string, id book.ID, byID map[book.ID]book.Line) string {
	if l, ok := byID[id]; ok {
		return words + " (" + l.Body.Kind() + " of " + say.Clock(l.At) + ")"
	}
	return words
}

// fields are the fields of a body that say something, each with its name in words and its unit:
// the road for every kind, a new one too.
func fields(v reflect.Value) string {
	var out []string
	for i := range v.NumField() {
		f, t := v.Field(i), v.Type().Field(i)
		if !t.IsExported() || f.IsZero() {
			continue
		}
		if said := one(f); said != "" {
			name := strings.ReplaceAll(snake(t.Name), "_", " ")
			switch {
			case said == "yes":
				out = append(out, name)
			case name == said || unsaidNames[t.Name]:
				out = append(out, said)
			default:
				out = append(out, name+" "+said)
			}
		}
	}
	return strings.Join(out, ", ")
}

// unsaidNames are names of fields that say no more than their value does.
var unsaidNames = map[string]bool{"What": true, "Litres": true, "Grams": true, "Analysis": true}

// one is a value in words; "" when it says nothing.
func one(f reflect.Value) string {
	switch x := f.Interface().(type) {
	case time.Time:
		if x.Hour() == 0 && x.Minute() == 0 {
			return x.Format("2 January 2006")
		}
		return say.Clock(x)
	case time.Duration:
		if x < 90*time.Second {
			return trimmed(x.Seconds()) + " s"
		}
		return say.Span(x)
	case enclosure.Point:
		return trimmed(x.Z.Centimetres()) + " cm at " + trimmed(x.X.Centimetres())
	}
	switch f.Kind() {
	case reflect.String:
		return f.String()
	case reflect.Bool:
		return "yes"
	case reflect.Int:
		return say.Number(float64(f.Int()), 0)
	case reflect.Float64:
		if math.IsNaN(f.Float()) || math.IsInf(f.Float(), 0) {
			return ""
		}
		return amount(f)
	case reflect.Struct:
		if known, value := f.FieldByName("Is"), f.FieldByName("Value"); known.IsValid() && value.IsValid() && known.Kind() == reflect.Bool {
			if !known.Bool() {
				return ""
			}
			return one(value)
		}
		return fields(f)
	case reflect.Slice:
		var out []string
		for i := range f.Len() {
			if said := one(f.Index(i)); said != "" {
				out = append(out, said)
			}
		}
		return strings.Join(out, "; ")
	case reflect.Pointer, reflect.Interface:
		if !f.IsNil() {
			return one(f.Elem())
		}
	}
	return ""
}

// amount is a number with its unit, by its type.
func amount(f reflect.Value) string {
	switch x := f.Interface().(type) {
	case quantity.Millimetres:
		return trimmed(x.Centimetres()) + " cm"
	case quantity.Share:
		return say.Percent(x)
	case book.Minutes:
		return say.Span(time.Duration(float64(x) * float64(time.Minute)))
	}
	return strings.TrimSpace(trimmed(f.Float()) + " " + unitWords[units[f.Type()]])
}

// unitWords are the endings of JSON names as people read them.
var unitWords = map[string]string{
	"_l": "L", "_l_per_day": "L a day", "_c": "°C", "_k": "K", "_g": "g", "_dgh": "°dGH", "_dkh": "°dKH",
	"_us_cm": "µS/cm", "_mg_n_l": "mg/L as N", "_mg_l": "mg/L", "_w": "W",
}

// trimmed is a number as it was written: no more than four decimals, no noughts behind.
func trimmed(x float64) string {
	s := say.Number(x, 4)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
