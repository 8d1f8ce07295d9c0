package caution

import (
	"cmp"
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"halfwater/cite"
)

// Trigger is what in a piece of work calls for a caution.
type Trigger string

// The triggers.
const (
	Mains          Trigger = "mains"           // hands near water with a plug in it
	LevelFalls     Trigger = "level falls"     // heater or pump may meet air
	Generator      Trigger = "generator"       // a generator, stove or grill in a power cut
	WetFloor       Trigger = "wet floor"       // water where the plugs are
	MouthSiphon    Trigger = "mouth siphon"    // any siphon
	Hygiene        Trigger = "hygiene"         // hands in the water, animals handled
	FrailHousehold Trigger = "frail household" // small children, the old, weak immunity
	ToxicSkin      Trigger = "toxic skin"      // newts, toads, frogs handled
	Bite           Trigger = "bite"            // animals that bite or pinch
	Sap            Trigger = "sap"             // plants with calcium oxalate cut
	Lifting        Trigger = "lifting"         // buckets, stone, the case
	Glass          Trigger = "glass"           // glass carried, cleaned, loaded, cracked
	FloorLoad      Trigger = "floor load"      // a heavy case on a floor
	Chemicals      Trigger = "chemicals"       // neutraliser, salts, reagents
	Powder         Trigger = "powder"          // dusty salts
	Acid           Trigger = "acid"
	Disinfecting   Trigger = "disinfecting"
	Silicone       Trigger = "silicone"
	Amphibian      Trigger = "amphibian"   // soap, sprays and oils near amphibians
	Salt           Trigger = "salt"        // salt in the water
	HotSurface     Trigger = "hot surface" // lamps, radiant heaters, mats
	UVLamp         Trigger = "uv lamp"
	Drowning       Trigger = "drowning"   // land animals over water
	Escape         Trigger = "escape"     // the lid off
	Medicine       Trigger = "medicine"   // anything given against disease
	RedFlag        Trigger = "red flag"   // a sign that overrides arithmetic
	Quarantine     Trigger = "quarantine" // a new arrival
	Disposal       Trigger = "disposal"   // plants, snails, carcasses thrown out
	WaterOut       Trigger = "water out"  // old water poured away
	Release        Trigger = "release"    // animals or plants that may get outdoors
	ListedSpecies  Trigger = "listed species"
	Import         Trigger = "import" // animals bought or brought from abroad
)

// Authority is whoever decides where the program does not.
type Authority string

// The authorities.
const (
	Electrician  Authority = "electrician"
	LocalCode    Authority = "local code"
	Maker        Authority = "maker"
	Label        Authority = "label"
	FireService  Authority = "fire service"
	Doctor       Authority = "doctor"
	PoisonCentre Authority = "poison centre"
	Vet          Authority = "vet"
	Builder      Authority = "builder"
	Glazier      Authority = "glazier"
	Wildlife     Authority = "authority" // of nature and wildlife
)

var authorities = []Authority{
	Electrician, LocalCode, Maker, Label, FireService, Doctor, PoisonCentre, Vet, Builder, Glazier, Wildlife,
}

// Code names a caution; its sentence stands in the catalogue of sentences.
type Code string

// Caution is the usual warning where work can hurt.
type Caution struct {
	Code     Code
	Trigger  Trigger
	Order    int // on a sheet the smaller stands earlier
	DefersTo []Authority
	Work     string // a key of cite's works
	Place    string // where in the work, or a remark
}

//go:embed cautions.txt
var tableText string

var table = mustRead(tableText)

func mustRead(text string) []Caution {
	list, err := read(text)
	if err != nil {
		panic("caution: cautions.txt: " + err.Error())
	}
	return list
}

// read reads a table of cautions and puts it in order. It refuses a row that is not six cells, a
// code given twice, an unknown authority or work, and an order that is no number.
func read(text string) ([]Caution, error) {
	var out []Caution
	seen := map[Code]bool{}
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "|")
		if len(cells) != 6 {
			return nil, fmt.Errorf("line %d: %d cells, not 6", n+1, len(cells))
		}
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		c := Caution{Trigger: Trigger(cells[0]), Code: Code(cells[1]), Work: cells[4], Place: cells[5]}
		var err error
		if c.Order, err = strconv.Atoi(cells[2]); err != nil {
			return nil, fmt.Errorf("line %d: order %q is not a number", n+1, cells[2])
		}
		for _, a := range strings.FieldsFunc(cells[3], func(r rune) bool { return r == ',' }) {
			authority := Authority(strings.TrimSpace(a))
			if !slices.Contains(authorities, authority) {
				return nil, fmt.Errorf("line %d: authority %q is unknown", n+1, authority)
			}
			c.DefersTo = append(c.DefersTo, authority)
		}
		if _, ok := cite.Lookup(c.Work); !ok {
			return nil, fmt.Errorf("line %d: work %q is not in works.txt", n+1, c.Work)
		}
		if c.Trigger == "" || c.Code == "" || seen[c.Code] {
			return nil, fmt.Errorf("line %d: trigger or code is blank, or the code stands twice", n+1)
		}
		seen[c.Code] = true
		out = append(out, c)
	}
	slices.SortStableFunc(out, inOrder)
	return out, nil
}

func inOrder(a, b Caution) int {
	return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Code, b.Code))
}

// All gives every caution, in the order of a sheet. The slice is the caller's.
func All() []Caution { return slices.Clone(table) }

// For gives the cautions of these triggers, each once, in the order of a sheet.
func For(triggers ...Trigger) []Caution {
	var out []Caution
	for _, c := range table {
		if slices.Contains(triggers, c.Trigger) {
			out = append(out, c)
		}
	}
	return out
}

// Lookup gives the caution of a code.
func Lookup(code Code) (Caution, bool) {
	for _, c := range table {
		if c.Code == code {
			return c, true
		}
	}
	return Caution{}, false
}
