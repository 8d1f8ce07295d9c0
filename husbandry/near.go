package husbandry

import (
	"slices"
	"strings"
)

// near gives at most three names of the table that look like the folded name, nearest first: those
// that share words with it, or are at most a third of its letters away, and none much further than
// the nearest.
func near(name string) []string {
	type candidate struct {
		name string
		far  int
	}
	var found []candidate
	for _, s := range table {
		best := candidate{far: 1 << 30}
		for _, n := range []string{s.Common, s.Scientific} {
			far := distance(name, fold(n))
			if shared := sharedWords(name, fold(n)); shared > 0 {
				far = min(far, len(name)/3) - len(name)*shared
			}
			if far < best.far {
				best = candidate{n, far}
			}
		}
		if 3*best.far <= len(name) {
			found = append(found, best)
		}
	}
	slices.SortStableFunc(found, func(a, b candidate) int { return a.far - b.far })
	var out []string
	for _, c := range found[:min(3, len(found))] {
		if c.far <= found[0].far+len(name)/5 {
			out = append(out, c.name)
		}
	}
	return out
}

// sharedWords counts the words of four letters or more of a that stand in b.
func sharedWords(a, b string) int {
	words, n := strings.Fields(b), 0
	for _, w := range strings.Fields(a) {
		if len(w) >= 4 && slices.Contains(words, w) {
			n++
		}
	}
	return n
}

// distance is the number of letters to put in, take out or change to make a into b (Levenshtein).
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			diagonal, row[j+1] = row[j+1], min(row[j+1]+1, row[j]+1, diagonal+cost)
		}
	}
	return row[len(b)]
}
