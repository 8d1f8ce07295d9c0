package main

import (
	"encoding/json"
	"fmt"
	"sort"
	"strconv"
	"text/tabwriter"

	"halfwater/cite"
	"halfwater/climate"
	"halfwater/dynamics"
	"halfwater/emergency"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/kit"
	"halfwater/load"
	"halfwater/plan"
	"halfwater/water"
)

// constants are the tables of all packages that have one; that of infer/blame comes with infer.
var constants = []struct {
	of   string
	list func() []cite.Constant
}{
	{"water", water.Constants},
	{"climate", climate.Constants},
	{"husbandry", husbandry.Constants},
	{"kit", kit.Constants},
	{"enclosure", enclosure.Constants},
	{"load", load.Constants},
	{"dynamics", dynamics.Constants},
	{"infer", infer.Constants},
	{"plan", plan.Constants},
	{"emergency", emergency.Constants},
}

type constantsCmd struct {
	Of   string `arg:"" optional:"" help:"Only those of one part: water, climate, husbandry, kit, enclosure, load, dynamics, infer, plan, emergency."`
	JSON bool   `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (constantsCmd) Help() string {
	return `Every number that could be disputed: value, unit, where it holds, its doubt, and the work it
comes from. How far a work was seen stands with it: seen, carrier (in a file or abstract that
repeats it), memory, practice (common practice, no source) or judgement (ours).

Example:
  halfwater constants water
  halfwater constants --json | jq '.[] | select(.work == "emerson1975")'`
}

// listedConstant is a constant with the part it belongs to and its work in full.
type listedConstant struct {
	Of        string  `json:"of"`
	Name      string  `json:"name"`
	Value     float64 `json:"value"`
	Unit      string  `json:"unit"`
	Span      string  `json:"span"`
	Doubt     string  `json:"doubt"`
	Work      string  `json:"work"`
	Status    string  `json:"status"`
	Reference string  `json:"reference"`
	Place     string  `json:"place"`
}

// unknownPart is a part that has no table of constants.
type unknownPart struct{ name string }

func (e unknownPart) Error() string {
	s := fmt.Sprintf("no part %q has constants; use one of", e.name)
	for _, c := range constants {
		s += " " + c.of
	}
	return s
}

func (unknownPart) ExitCode() int { return exitMissing }

// Run lists the constants.
func (c *constantsCmd) Run(w *world) error {
	var all []listedConstant
	for _, part := range constants {
		if c.Of != "" && c.Of != part.of {
			continue
		}
		for _, k := range part.list() {
			work, _ := cite.Lookup(k.Work)
			all = append(all, listedConstant{
				part.of, k.Name, k.Value, k.Unit, k.Span, k.Doubt, k.Work, string(work.Status), work.Reference, k.Place,
			})
		}
	}
	if len(all) == 0 {
		return unknownPart{c.Of}
	}
	if c.JSON {
		enc := json.NewEncoder(w.out)
		enc.SetIndent("", "  ")
		return enc.Encode(all)
	}
	works := map[string]bool{}
	t := tabwriter.NewWriter(w.out, 0, 8, 2, ' ', 0)
	of := ""
	for _, k := range all {
		if k.Of != of {
			of = k.Of
			fmt.Fprintf(t, "%s\n", of)
		}
		works[k.Work] = true
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\t%s\t%s\n", k.Name, strconv.FormatFloat(k.Value, 'g', -1, 64), k.Unit, k.Span, k.Doubt, k.Work, k.Place)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w.out, "\nworks")
	var keys []string
	for k := range works {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	for _, k := range keys {
		work, _ := cite.Lookup(k)
		fmt.Fprintf(w.out, "  %s (%s): %s\n", k, work.Status, work.Reference)
	}
	return nil
}
