package emergency

import (
	_ "embed"
	"fmt"
	"strings"

	"halfwater/cite"
)

// Act is one thing to do, by the code of its sentence, with the work that it rests on. Most rest on
// common practice, and say so.
type Act struct {
	Code  string
	Work  string // a key of cite's works
	Place string // where in the work, or a remark
}

//go:embed acts.txt
var actsText string

var acts = mustActs(actsText)

// mustActs reads the acts by group. A row that is not four cells, or a work that nobody knows, is a
// fault of the program.
func mustActs(text string) map[string][]Act {
	out := map[string][]Act{}
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "|")
		if len(cells) != 4 {
			panic(fmt.Sprintf("emergency: acts.txt line %d: %d cells, not 4", n+1, len(cells)))
		}
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		if _, ok := cite.Lookup(cells[2]); !ok {
			panic(fmt.Sprintf("emergency: acts.txt line %d: work %q is not in works.txt", n+1, cells[2]))
		}
		out[cells[0]] = append(out[cells[0]], Act{cells[1], cells[2], cells[3]})
	}
	return out
}

// actsOf are the acts of a group; none of a group that is not there is a fault of the program.
func actsOf(group string) []Act {
	a := acts[group]
	if len(a) == 0 {
		panic("emergency: no acts for " + group)
	}
	return append([]Act(nil), a...)
}

// Sign is one thing to be seen, with its first act already under it.
type Sign struct {
	Name  string // short, as it is written in the book: gasping, warmth, water, level, power, hurt
	Code  string // of its name in words: what is seen
	First Act
	Acts  []Act // all of them, the first among them
}

// SignNames are the six signs in the order of the screen: breathing first, then temperature, poison,
// leak, power, and who is hurt.
func SignNames() []string { return []string{"gasping", "warmth", "water", "level", "power", "hurt"} }

// Signs are the six, the same at any hour and for any enclosure.
func Signs() []Sign {
	var out []Sign
	for _, name := range SignNames() {
		a := actsOf(name)
		out = append(out, Sign{Name: name, Code: "emergency.sign-" + name, First: a[0], Acts: a})
	}
	return out
}

// Warning is what stands above all signs.
func Warning() Act { return actsOf("warning")[0] }

// Matter is something that has happened and wants keeping, leaving and calling.
type Matter struct {
	Name                string // contamination, leak, white water, mass exit
	Code                string // of its name in words
	Do, Keep, Not, Call []Act
}

// Matters are the four.
func Matters() []Matter {
	var out []Matter
	for _, name := range []string{"contamination", "leak", "white water", "mass exit"} {
		out = append(out, Matter{
			Name: name, Code: "emergency.matter-" + strings.ReplaceAll(name, " ", "-"),
			Do: actsOf(name + " do"), Keep: actsOf(name + " keep"), Not: actsOf(name + " not"), Call: actsOf(name + " call"),
		})
	}
	return out
}

// Afterwards is what to keep for the review of what happened.
func Afterwards() []Act { return actsOf("afterwards") }
