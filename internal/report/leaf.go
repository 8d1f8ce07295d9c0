package report

import (
	"math"
	"unicode/utf8"
)

// The room on one leaf of A4, in mm: two columns under the head of the sheet.
const (
	columnWide, columnHigh = 88., 232.
	pointMM                = 25.4 / 72
	lineHigh               = 1.24 // of the size of the letters
	letterWide             = .5   // the mean of running text in a sans face, of its size
	lesser                 = .9   // the size of cautions and remarks, of that of the work
	indent                 = 5.   // mm
	headHigh               = 7.   // mm that a heading takes with the space above it
	leastSpare             = .96  // of the leaf is used at most
)

// Sizes of letters of a sheet, the largest first, by the name that the style sheet has for each.
var sizes = []struct {
	name   string
	points float64
}{{"roomy", 11}, {"usual", 10}, {"close", 9.2}, {"tight", 8.4}, {"least", 7.6}}

// Size is the name of the largest letters in which the whole sheet stands on one leaf of A4; the
// smallest when none does.
func (v View) Size() string {
	for _, s := range sizes {
		if v.high(s.points*pointMM) <= 2*columnHigh*leastSpare {
			return s.name
		}
	}
	return sizes[len(sizes)-1].name
}

// high is how many mm the sheet is high in one column, set in letters of a size in mm.
func (v View) high(size float64) float64 {
	sum := 0.
	set := func(size float64, texts ...string) {
		perLine := (columnWide - indent) / (size * letterWide)
		for _, t := range texts {
			sum += math.Ceil(float64(utf8.RuneCountInString(t))/perLine)*size*lineHigh + .3
		}
	}
	section := func(n int) {
		if n > 0 {
			sum += headHigh
		}
	}
	small := size * lesser
	section(len(v.Cautions))
	set(small, v.Cautions...)
	section(len(v.Steps))
	for _, s := range v.Steps {
		set(size, s.Verb+s.Amount)
		set(size, s.Fills...)
		set(size, s.Notes...)
	}
	section(len(v.Path))
	for _, p := range v.Path {
		set(size, p.Day+p.Amount+p.Then)
	}
	for _, list := range [][]string{v.Refused, v.NotToday, v.Missing} {
		section(len(list))
		set(small, list...)
	}
	section(len(v.Concerns))
	for _, c := range v.Concerns {
		set(small, c.Tier+c.Text+c.Odds.Words+"  Look again: "+c.LookAgain)
	}
	section(len(v.Effects))
	for range v.Effects {
		sum += 1.6 * small * lineHigh // about every other row takes two lines
	}
	return sum
}
