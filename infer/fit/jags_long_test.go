//go:build long && unix

package fit

import (
	"context"
	_ "embed"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"halfwater/dynamics"
)

//go:embed jags/nitrate.bug
var nitrateModel string

// TestBesideJAGS asks a general sampler, JAGS (Plummer 2003; the Debian package jags), the same 26 readings of a
// nitrate card, by a model that is simplified to weeks of nitrate alone, and tells for both what a second of
// processor time gives. It asks that the load comes out alike, within half of its own deviation: the models are not
// the same.
func TestBesideJAGS(t *testing.T) {
	if _, err := exec.LookPath("jags"); err != nil {
		t.Skip("jags is not installed (Debian: apt-get install jags)")
	}
	const weeks = 26
	p := fed()
	c := *p.Course
	c.Days = 7 * weeks
	c.Pieces = slices.Clone(c.Pieces)
	c.Pieces[0].To = c.Days
	change := c.Events[0]
	change.Pour.NO3 = 0
	c.Events, c.Changes = nil, 0
	for week := range weeks {
		change.Day = 7*float64(week) + 6.9
		c.Changes++
		change.Change = c.Changes
		c.Events = append(c.Events, change)
	}
	p.Course = &c
	card := tableOf(t, readBy[2].kit)
	for week := range weeks {
		r := card.as
		r.Day, r.See, r.Lot, r.Wander = 7*float64(week)+6.8, nitrate, 0, -1
		p.Readings = append(p.Readings, r)
	}
	p.Lots = []Lot{{SD: 0.2}}
	b := newBench(&p)
	truth := make([]float64, b.n)
	truth[dynamics.Load] = 1
	var r run
	b.live(truth, &r)
	rnd := rand.New(rand.NewPCG(4, 4))
	shown := make([]string, weeks)
	for i := range p.Readings {
		card.show(&p.Readings[i], b.asKit(i, truth, r.seen[i]), rnd)
		shown[i] = fmt.Sprint(1 + indexAfter(card.borders, p.Readings[i].Lo))
	}

	tell := func(who string, load [][]float64, took time.Duration) (mean, sd float64) {
		m := Mixed(load)
		var all []float64
		for _, chain := range load {
			all = append(all, chain...)
		}
		slices.Sort(all)
		for _, x := range all {
			mean += math.Log(x) / float64(len(all))
		}
		for _, x := range all {
			sd += (math.Log(x) - mean) * (math.Log(x) - mean) / float64(len(all))
		}
		t.Logf("%-28s load %.2f [%.2f, %.2f], R-hat %.3f, %.0f effective draws in %.2f s: %.0f a second",
			who, all[len(all)/2], all[len(all)/20], all[len(all)-1-len(all)/20], m.RHat, m.Bulk, took.Seconds(), m.Bulk/took.Seconds())
		return mean, math.Sqrt(sd)
	}
	load := func(h *History) float64 { return h.Params[dynamics.Load] }

	begun := used(t)
	fast, err := p.Solve(Effort{Draws: 2000, Moves: 1, Scouts: 30}, 1)
	if err != nil {
		t.Fatal(err)
	}
	took := used(t) - begun
	one := make([][]float64, 4) // its draws know nothing of each other
	for i := range fast.Draws {
		one[i%4] = append(one[i%4], load(&fast.Draws[i]))
	}
	tell("fast, whole water", one, took)

	begun = used(t)
	slow, err := p.Sample(context.Background(), Patience{Chains: 8, Warm: 60, Rounds: 300, Every: 1}, 1)
	if err != nil {
		t.Fatal(err)
	}
	took = used(t) - begun
	other := make([][]float64, len(slow.Chains))
	for i := range slow.Chains {
		for k := range slow.Chains[i] {
			other[i] = append(other[i], load(&slow.Chains[i][k]))
		}
	}
	ours, deviation := tell("slow, whole water", other, took)

	chains, took := jags(t, &card, shown, weeks)
	theirs, _ := tell("JAGS, weeks of nitrate alone", chains, took)
	if math.Abs(theirs-ours) > deviation/2 {
		t.Errorf("ln load %.2f by JAGS, %.2f here, deviation %.2f", theirs, ours, deviation)
	}
}

// used is the processor time of this program so far.
func used(t *testing.T) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano())
}

// indexAfter is how many borders lie at or below x.
func indexAfter(borders []float64, x float64) int {
	n := 0
	for n < len(borders) && borders[n] <= x {
		n++
	}
	return n
}

// jags runs the simplified model and gives the chains of the load, with the time that it took, its compiling not
// counted.
func jags(t *testing.T, card *table, shown []string, weeks int) ([][]float64, time.Duration) {
	t.Helper()
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var borders []string
	for _, x := range card.borders {
		borders = append(borders, fmt.Sprint(card.as.Scale(x)))
	}
	write("nitrate.bug", nitrateModel)
	write("data.R", fmt.Sprintf("weeks <- %d\nclasses <- %d\nborder <- c(%s)\nshift <- %g\nsd <- %g\nodd <- %g\ncomes <- 0.22\nchanged <- 0.2\nshown <- c(%s)\n",
		weeks, len(borders)+1, strings.Join(borders, ", "), card.as.Shift, card.as.SD, card.as.Odd, strings.Join(shown, ", ")))
	run := func(updates int) time.Duration {
		write("run.cmd", fmt.Sprintf("model in nitrate.bug\ndata in data.R\ncompile, nchains(4)\ninitialize\nupdate 1000\nmonitor intake\nupdate %d\ncoda *\n", updates))
		cmd := exec.Command("jags", "run.cmd")
		cmd.Dir = dir
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		return cmd.ProcessState.UserTime()
	}
	begin := run(1)
	took := run(2000) - begin
	chains := make([][]float64, 4)
	for i := range chains {
		text, err := os.ReadFile(filepath.Join(dir, fmt.Sprintf("CODAchain%d.txt", i+1)))
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(text)) {
			var at int
			var x float64
			if _, err := fmt.Sscan(line, &at, &x); err != nil {
				t.Fatal(err)
			}
			chains[i] = append(chains[i], x)
		}
	}
	return chains, took
}
