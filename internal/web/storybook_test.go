package web_test

import (
	"encoding/xml"
	"errors"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// pages are all that can be shown with GET, in every state worth looking at.
var pages = []struct{ name, address string }{
	{"today", "/"},
	{"sheet", "/sheet"},
	{"sheet-1", "/sheet?step=1"},
	{"sheet-2", "/sheet?step=2"},
	{"sheet-3", "/sheet?step=3"},
	{"sheet-4", "/sheet?step=4"},
	{"sheet-5", "/sheet?step=5"},
	{"sheet-6", "/sheet?step=6"},
	{"sheet-7", "/sheet?step=7"},
	{"sheet-last", "/sheet?step=99"},
	{"paper", "/sheet/print"},
	{"water", "/water"},
	{"outlook", "/outlook"},
	{"reading", "/reading"},
	{"book", "/book"},
	{"emergency", "/emergency"},
	{"emergency-typed", "/emergency?power-off-since=02:10&water-temp=24"},
}

// stories are the enclosures in whose state every page is shown.
func stories(t testing.TB) map[string]enclosed {
	return map[string]enclosed{
		"riverbank":  looked(t),
		"empty":      enclosure(t, "", ""),
		"bare":       enclosure(t, bare, ""),
		"sour":       enclosure(t, sour, sourBook),
		"no-reading": enclosure(t, sour, ""),
	}
}

// TestStorybook shows every page of every story and holds it to the rules of all pages. With
// STORYBOOK=/folder the pages are written there, to be looked at.
func TestStorybook(t *testing.T) {
	for story, e := range stories(t) {
		for _, p := range pages {
			t.Run(story+"/"+p.name, func(t *testing.T) {
				w := e.get(p.address)
				if w.Code != http.StatusOK {
					t.Fatalf("%s answers %d:\n%s", p.address, w.Code, w.Body)
				}
				sound(t, w.Body.String())
				if dir := os.Getenv("STORYBOOK"); dir != "" {
					if err := os.WriteFile(filepath.Join(dir, story+"-"+p.name+".html"), w.Body.Bytes(), 0o644); err != nil {
						t.Fatal(err)
					}
				}
			})
		}
		if story == "empty" {
			continue
		}
		for _, kit := range []string{"pH pen", "KH drops", "ammonia card"} {
			if story == "bare" {
				continue
			}
			t.Run(story+"/"+kit, func(t *testing.T) {
				w := e.get("/reading?kit=" + strings.ReplaceAll(kit, " ", "+"))
				if w.Code != http.StatusOK {
					t.Fatalf("answers %d:\n%s", w.Code, w.Body)
				}
				sound(t, w.Body.String())
			})
		}
	}
}

var (
	void      = regexp.MustCompile(`<(meta|link|input)([^>]*)>`)
	forbidden = regexp.MustCompile(`(?i)<script|<style|\sstyle=|\son[a-z]+=|javascript:|<iframe|src="http`)
	unsaid    = regexp.MustCompile(`\[[a-z]+\.[a-z0-9-]+\]|NaN|%!|<nil>|\[\]|map\[`)
	id        = regexp.MustCompile(`\sid="([^"]*)"`)
	named     = regexp.MustCompile(`\s(?:for|aria-labelledby|aria-describedby)="([^"]*)"`)
	bare2     = regexp.MustCompile(`\s(open|checked|selected)([\s>])`)
	boast     = regexp.MustCompile(`(?i)\b(safe|perfect|oops|great job|well done)\b`)
)

// sound holds a page to what every page must keep.
func sound(t *testing.T, page string) {
	t.Helper()
	if bad := forbidden.FindString(page); bad != "" {
		t.Errorf("the policy forbids %q", bad)
	}
	if bad := unsaid.FindString(page); bad != "" {
		t.Errorf("a code, or a number that is none, is shown: %q", bad)
	}
	if bad := boast.FindString(page); bad != "" {
		t.Errorf("the page says %q", bad)
	}
	if n := strings.Count(page, "<h1"); n != 1 {
		t.Errorf("%d first headings", n)
	}
	if n := strings.Count(page, `class="do"`) + strings.Count(page, `class="do `); n > 1 && !strings.Contains(page, "lineform") && !strings.Contains(page, "asks") {
		t.Errorf("%d filled buttons", n)
	}
	ids := map[string]bool{}
	for _, m := range id.FindAllStringSubmatch(page, -1) {
		if ids[m[1]] {
			t.Errorf("id %q is given twice", m[1])
		}
		ids[m[1]] = true
	}
	for _, m := range named.FindAllStringSubmatch(page, -1) {
		for _, name := range strings.Fields(m[1]) {
			if !ids[name] {
				t.Errorf("%q is named and is not there", name)
			}
		}
	}
	closed(t, page)
}

// closed reads the page as a tree: what is opened is closed, in order.
func closed(t *testing.T, page string) {
	t.Helper()
	page = void.ReplaceAllString(strings.Replace(page, "<!doctype html>", "", 1), "<$1$2/>")
	for bare2.MatchString(page) {
		page = bare2.ReplaceAllString(page, ` $1=""$2`)
	}
	page = strings.NewReplacer("&nbsp;", " ", ` selected/>`, ` selected=""/>`, ` checked/>`, ` checked=""/>`).Replace(page)
	dec := xml.NewDecoder(strings.NewReader(page))
	dec.Entity = xml.HTMLEntity
	for {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatalf("%v", err)
		}
	}
}
