//go:build long

package infer

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"halfwater/infer/fit"
)

// TestExactEnough holds the fast histories of simulated enclosures to the slow sampler, on what is foretold of each
// one to four weeks after the last reading: mean within 0.3 exact standard deviations, ratio of standard deviations
// from 0.8 to 1.25, chance of each exact tenth within 0.05. It asks that the exact chains have mixed, and that a
// fast answer which is altogether elsewhere (a mean off by more than 1.5) does not call itself sure. How far the others are
// off is told, and what came stands in doc/infer.md.
func TestExactEnough(t *testing.T) {
	far, all := 0, 0
	for i, kind := range aheadKinds {
		e := newTruth(firstAhead+uint64(i), kind)
		e.keep(26)
		e.untested = true
		weeks := 1 + i%4
		e.keep(weeks)
		when := day0.AddDate(0, 0, 7*(26+weeks))
		b, v, lines, err := believe(Window{Lines: e.lines, At: when, Recorded: when, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		a, err := v.histories(lines, b.window, fit.Watch{})
		if err != nil {
			t.Fatal(err)
		}
		q := a.question
		begun := time.Now()
		patience := fit.Patience{Chains: 8, Warm: 100, Rounds: 150, Every: 1, Goal: fit.Mixing{RHat: 1.05, Bulk: 150, Tail: 75}, Longest: 4}
		slow, err := q.Sample(context.Background(), patience, 1)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d scores, %d readings, power %.2f; %d runs in %s; worst score %+v", kind, len(slow.Scores), len(q.Readings), q.Power, slow.Runs, time.Since(begun).Round(time.Second), slow.Worst)
		efforts := []fit.Effort{{Draws: 300, Moves: 1, Scouts: 30, Bends: true}, {Draws: 1000, Moves: 1, Scouts: 30, Bends: true}, {Draws: 1000, Moves: 8, Scouts: 30, Bends: true}}
		for _, spent := range efforts {
			fast, err := q.Solve(spent, 1)
			if err != nil {
				t.Fatal(err)
			}
			for k, m := range foretold {
				see, _ := q.see(m)
				of := func(h *fit.History) float64 { return q.Wanders[k].Apply(see(&h.End), h.Wander[k]) }
				var one, other []float64
				for j := range fast.Draws {
					one = append(one, of(&fast.Draws[j]))
				}
				for _, c := range slow.Chains {
					for j := range c {
						other = append(other, of(&c[j]))
					}
				}
				slices.Sort(other)
				mean, sd := meanAndSD(one)
				trueMean, trueSD := meanAndSD(other)
				low, high := 0.0, 0.0
				for _, x := range one {
					if x < at(other, 0.1) {
						low += 1 / float64(len(one))
					}
					if x > at(other, 0.9) {
						high += 1 / float64(len(one))
					}
				}
				off, ratio := (mean-trueMean)/trueSD, sd/trueSD
				all++
				word := "near"
				if math.Abs(off) > 0.3 || ratio < 0.8 || ratio > 1.25 || math.Abs(low-0.1) > 0.05 || math.Abs(high-0.1) > 0.05 {
					far++
					word = "FAR"
				}
				mixing := slow.Mixing(of)
				if math.Abs(off) > 1.5 && fast.Sure {
					t.Errorf("%s, %s: the fast answer is off by %.1f sd and sure", kind, m.Label(), off)
				}
				t.Logf("  %4d draws %d moves (%.0f %% taken, sure %v) %-26s %-4s exact %.4g sd %.3g; mean %+.2f sd, sd x%.2f, tails %.2f %.2f; R-hat %.3f, %.0f effective",
					spent.Draws, spent.Moves, 100*fast.Moved, fast.Sure, m.Label(), word, trueMean, trueSD, off, ratio, low, high, mixing.RHat, mixing.Bulk)
				if mixing.RHat > 1.05 || mixing.Bulk < 100 {
					t.Errorf("%s, %s: the exact chains have not mixed: %+v", kind, m.Label(), mixing)
				}
			}
		}
	}
	t.Logf("%d of %d not exact enough", far, all)
}

func meanAndSD(x []float64) (mean, sd float64) {
	n := float64(len(x))
	for _, v := range x {
		mean += v / n
	}
	for _, v := range x {
		sd += square(v-mean) / (n - 1)
	}
	return mean, math.Sqrt(sd)
}
