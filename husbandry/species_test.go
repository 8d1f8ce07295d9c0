package husbandry

import (
	"errors"
	"strings"
	"testing"

	"halfwater/quantity"
)

// Counts of the table by group; the values themselves are from memory of practice.
func TestTableIsWhole(t *testing.T) {
	want := map[Group]int{Lizard: 13, Turtle: 10, Newt: 11, Frog: 13, Crab: 6, Shrimp: 5, Snail: 5, Fish: 24, Plant: 17}
	got := map[Group]int{}
	for _, s := range All() {
		got[s.Group]++
		if s.Source == "" || s.Belief == "" {
			t.Errorf("%s has no source", s.Scientific)
		}
		if s.Use == "" {
			t.Errorf("%s: use of water unknown", s.Scientific)
		}
		if s.Group.Animal() && s.Excretes == "" {
			t.Errorf("%s: excretion unknown", s.Scientific)
		}
	}
	for g, n := range want {
		if got[g] != n {
			t.Errorf("%s: %d species, not %d", g, got[g], n)
		}
	}
}

func TestLookup(t *testing.T) {
	for _, name := range []string{"Theloderma corticale", "  vietnamese MOSSY   frog "} {
		s, err := Lookup(name)
		if err != nil || s.Scientific != "Theloderma corticale" {
			t.Fatalf("%q gave %q, %v", name, s.Scientific, err)
		}
		if s.Use != LivesIn {
			t.Errorf("mossy frog %q, not lives in", s.Use)
		}
		if r, ok := s.KH.Get(); !ok || r != (quantity.Range[quantity.Alkalinity]{Lo: 0, Hi: 6}) {
			t.Errorf("KH %v", r)
		}
		if n, ok := s.Nitrate.Get(); !ok || n != quantity.NitrateAsNO3(20) {
			t.Errorf("nitrate %v", n)
		}
	}
}

func TestLookupSuggests(t *testing.T) {
	for asked, want := range map[string]string{
		"Neocaridina davidii": "Neocaridina davidi",
		"japanese ricefish":   "Japanese rice fish",
		"mossy frog":          "Vietnamese mossy frog",
		"theloderma":          "Theloderma corticale",
	} {
		_, err := Lookup(asked)
		var unknown UnknownSpecies
		if !errors.As(err, &unknown) {
			t.Fatalf("%q: %v", asked, err)
		}
		if !strings.Contains(strings.Join(unknown.Near, "|"), want) {
			t.Errorf("%q: near %v, without %q", asked, unknown.Near, want)
		}
	}
	_, err := Lookup("zzzzqqqq")
	var unknown UnknownSpecies
	if !errors.As(err, &unknown) || len(unknown.Near) != 0 {
		t.Errorf("nonsense gave %v", err)
	}
}

func TestReadSpeciesRefuses(t *testing.T) {
	header := strings.Join(columns, ",") + "\n"
	row := func(change ...string) string {
		cells := make([]string, len(columns))
		cells[0], cells[1], cells[2] = "Genus species", "beast", "fish"
		for i := 0; i < len(change); i += 2 {
			for j, c := range columns {
				if c == change[i] {
					cells[j] = change[i+1]
				}
			}
		}
		return header + strings.Join(cells, ",") + "\n"
	}
	if list, err := readSpecies(row()); err != nil || len(list) != 1 {
		t.Fatalf("a row of blanks: %v", err)
	}
	for name, text := range map[string]string{
		"no header":     "a,b\n",
		"empty":         "",
		"ends crossed":  row("ph_min", "8", "ph_max", "7"),
		"one end":       row("ph_min", "8"),
		"not a number":  row("adult_mass_g", "heavy"),
		"infinite":      row("adult_mass_g", "Inf"),
		"group":         row("group", "bird"),
		"no group":      row("group", ""),
		"use":           row("water_use", "swims"),
		"hazard":        row("hazard_codes", "hunts growls"),
		"zone":          row("uv_ferguson_zone", "3-2"),
		"no name":       row("common_name", ""),
		"same name":     row("common_name", "genus SPECIES"),
		"missing cells": header + "a,b,fish\n",
	} {
		if _, err := readSpecies(text); err == nil {
			t.Errorf("%s: read without a word", name)
		}
	}
}

func FuzzReadSpecies(f *testing.F) {
	f.Add(speciesText)
	f.Add(strings.Join(columns, ",") + "\n")
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		list, err := readSpecies(text)
		if err != nil {
			return
		}
		for _, s := range list {
			if r, ok := s.PH.Get(); ok && r.Empty() {
				t.Errorf("%s: empty range read", s.Scientific)
			}
		}
	})
}

func FuzzLookup(f *testing.F) {
	f.Add("mossy frog")
	f.Add("\xff")
	f.Fuzz(func(t *testing.T, name string) {
		s, err := Lookup(name)
		if (err == nil) != (s.Scientific != "") {
			t.Errorf("%q: %v, %v", name, s.Scientific, err)
		}
	})
}

// The name in an older book finds the species.
func TestOlderNames(t *testing.T) {
	for old, want := range map[string]string{
		"Triturus alpestris": "Ichthyosaura alpestris", "triturus  ALPESTRIS": "Ichthyosaura alpestris", "Hyla cinerea": "Dryophytes cinereus",
	} {
		if s, err := Lookup(old); err != nil || s.Scientific != want {
			t.Errorf("%s: %s, %v", old, s.Scientific, err)
		}
	}
}
