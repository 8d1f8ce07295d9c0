package caution

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"halfwater/internal/published"
)

// triggers is every trigger of the package, in the order of its source.
var triggers = []Trigger{
	Mains, LevelFalls, Generator, WetFloor, MouthSiphon, Hygiene, FrailHousehold, ToxicSkin, Bite, Sap, Lifting,
	Glass, FloorLoad, Chemicals, Powder, Acid, Disinfecting, Silicone, Amphibian, Salt, HotSurface, UVLamp, Drowning,
	Escape, Medicine, RedFlag, Quarantine, Disposal, WaterOut, Release, ListedSpecies, Import,
}

func TestEveryTriggerHasACaution(t *testing.T) {
	for _, trigger := range triggers {
		if len(For(trigger)) == 0 {
			t.Errorf("%q calls for nothing", trigger)
		}
	}
	for _, c := range All() {
		if !slices.Contains(triggers, c.Trigger) {
			t.Errorf("%s has the unknown trigger %q", c.Code, c.Trigger)
		}
	}
	if n := len(For(triggers...)); n != len(All()) {
		t.Errorf("all triggers call for %d of %d cautions", n, len(All()))
	}
	if len(For()) != 0 || len(For("tea")) != 0 {
		t.Error("no work calls for a caution")
	}
}

func TestOrder(t *testing.T) {
	list := All()
	if list[0].Trigger != RedFlag || list[1].Trigger != Mains {
		t.Errorf("the first cautions are %s and %s", list[0].Code, list[1].Code)
	}
	if !slices.IsSortedFunc(list, inOrder) {
		t.Error("the cautions are out of order")
	}
	list[0].Order = 99
	if All()[0].Order == 99 {
		t.Error("a caller can change the table")
	}
}

// Who decides, where the law, a medicine or the mains are in play.
func TestDefers(t *testing.T) {
	for trigger, want := range map[Trigger]Authority{
		Medicine: Vet, RedFlag: Vet, Quarantine: Vet, Release: Wildlife, ListedSpecies: Wildlife, Disposal: Wildlife,
		Mains: Electrician, FloorLoad: Builder, Hygiene: Doctor, Chemicals: PoisonCentre, Glass: Glazier,
	} {
		for _, c := range For(trigger)[:1] {
			if !slices.Contains(c.DefersTo, want) {
				t.Errorf("%s defers to %v, not to the %s", c.Code, c.DefersTo, want)
			}
		}
	}
}

func TestLookup(t *testing.T) {
	if c, ok := Lookup("caution.lifting"); !ok || c.Trigger != Lifting {
		t.Errorf("%+v", c)
	}
	if _, ok := Lookup("caution.dragons"); ok {
		t.Error("found dragons")
	}
}

func TestReadRefuses(t *testing.T) {
	good := "mains | caution.x | 1 | vet | practice | "
	if _, err := read(good); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{
		"mains | caution.x | 1 | vet | practice", "mains | caution.x | one | vet | practice |",
		"mains | caution.x | 1 | wizard | practice |", "mains | caution.x | 1 | vet | nowhere |",
		" | caution.x | 1 | vet | practice |", "mains | | 1 | vet | practice |", good + "\n" + good,
	} {
		if _, err := read(bad); err == nil {
			t.Errorf("read %q", bad)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(tableText)
	f.Add("|||||")
	f.Fuzz(func(t *testing.T, text string) {
		list, err := read(text)
		if err == nil && !slices.IsSortedFunc(list, inOrder) {
			t.Error("read out of order")
		}
	})
}

// Each caution has one sentence, and no sentence calms, praises, scolds or doses.
func TestSentences(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(published.Root(t), "internal", "say", "catalogue", "caution.txt"))
	if err != nil {
		t.Fatal(err)
	}
	sentences := map[Code]string{}
	for _, line := range strings.Split(string(text), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		code, sentence, _ := strings.Cut(line, ": ")
		sentences[Code(code)] = sentence
	}
	for _, c := range All() {
		if sentences[c.Code] == "" {
			t.Errorf("%s has no sentence", c.Code)
		}
		delete(sentences, c.Code)
	}
	for code := range sentences {
		t.Errorf("the sentence %s belongs to no caution", code)
	}
	for _, word := range regexp.MustCompile(`(?i)\b(un)?safe(ly)?\b|\bwell done\b|\bgreat\b|\bcareless\b|mg/kg|mg/L`).FindAllString(string(text), -1) {
		t.Errorf("the sentences say %q", word)
	}
}
