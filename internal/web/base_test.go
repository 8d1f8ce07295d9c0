package web

import (
	"encoding/xml"
	"errors"
	"html/template"
	"io"
	"regexp"
	"strings"
	"testing"
)

// frame renders the base with a page of one sentence.
func frame(t *testing.T, b Base) string {
	t.Helper()
	p := template.Must(inFrame().Parse(`{{define "main"}}<h1>{{.Title}}</h1>{{end}}`))
	var out strings.Builder
	if err := p.ExecuteTemplate(&out, "base", b); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func today() Base {
	return Base{
		Title: "Today", Enclosure: "Riverbank", When: "Sunday 22 November 2026", Home: "/",
		Pages: Pages(PageToday), Emergency: "/emergency", Sheet: "/asset/halfwater.css",
	}
}

func TestFrame(t *testing.T) {
	page := frame(t, today())
	for want, times := range map[string]int{
		`<a class="skip" href="#main">`:                1,
		`<main id="main">`:                             1,
		`aria-current="page"`:                          2, // in the head and at the foot
		`href="/book"`:                                 2,
		`class="sos" href="/emergency"`:                1,
		`<title>Today · Riverbank · Halfwater</title>`: 1,
		`aria-label="Pages"`:                           1,
		`aria-label="All pages"`:                       1,
		`<body>`:                                       1,
	} {
		if got := strings.Count(page, want); got != times {
			t.Errorf("%s stands %d times, want %d", want, got, times)
		}
	}
}

// TestFrameHoldsThePolicy: nothing that the content security policy forbids, in any kind of page.
func TestFrameHoldsThePolicy(t *testing.T) {
	for _, k := range []Kind{AtDesk, AtTank, InEmergency} {
		b := today()
		b.Kind = k
		page := frame(t, b)
		if bad := regexp.MustCompile(`(?i)<script|<style|\sstyle=|\son[a-z]+=|javascript:|https?://`).FindString(page); bad != "" {
			t.Errorf("kind %d has %q", k, bad)
		}
		if has := strings.Contains(page, `class="sos"`); has == (k == InEmergency) {
			t.Errorf("kind %d: emergency button shown: %t", k, has)
		}
		if k.Class() != "" && !strings.Contains(page, `<body class="`+k.Class()+`">`) {
			t.Errorf("kind %d: no class on the body", k)
		}
	}
}

// TestFrameCloses what it opens.
func TestFrameCloses(t *testing.T) {
	page := regexp.MustCompile(`<(meta|link)([^>]*)>`).ReplaceAllString(frame(t, today()), "<$1$2/>")
	page = strings.Replace(page, "<!doctype html>", "", 1)
	dec := xml.NewDecoder(strings.NewReader(page))
	for {
		_, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, page)
		}
	}
}

func TestFrameOfANewEnclosure(t *testing.T) {
	page := frame(t, Base{Title: "First facts", When: "Nothing in the book yet", Sheet: "/asset/halfwater.css"})
	if !strings.Contains(page, `<span class="name">A new enclosure</span>`) || strings.Contains(page, "<nav") || strings.Contains(page, "sos") {
		t.Errorf("a page before there is an enclosure:\n%s", page)
	}
}

func TestFrameEscapes(t *testing.T) {
	b := today()
	b.Enclosure, b.Foot = `<b>&"`, `<script>`
	if page := frame(t, b); strings.Contains(page, "<b>") || strings.Contains(page, "<script>") {
		t.Error("a name can write markup")
	}
}
