package infer

import (
	"halfwater/book"
	"halfwater/enclosure"
)

// sifted are the lines of a water, by what they are evidence of.
type sifted struct {
	lines  []book.Line      // without what says nothing (more) of the water in the enclosure
	means  map[book.ID]mean // of the readings that stand for many of a probe
	beside []book.Line      // tests of other waters that tell of the enclosure, its sources or its kits
}

// sift leaves out what is set aside, puts tests of other waters beside, and lets means stand for the minutes of
// probes. A glass, a jar, a bucket or a mix of which no more is said tells nothing. Known are all lines of the water, later ones
// too: what they say of a kit holds for its earlier readings.
func sift(lines, known []book.Line, aside map[book.ID]book.SetAside) sifted {
	source := map[string]bool{}
	for i := range lines {
		if s, ok := lines[i].Body.(enclosure.SourceWater); ok {
			source[s.Name] = true
		}
	}
	s := sifted{lines: make([]book.Line, 0, len(lines))}
	for i := range lines {
		l := &lines[i]
		_, doubted := aside[l.ID]
		switch b := l.Body.(type) {
		case book.Reading:
			switch {
			case doubted || b.Beside():
			case source[b.Place]:
				s.beside = append(s.beside, *l)
			default:
				s.lines = append(s.lines, *l)
			}
		case book.AeratedGlass, book.StoneJar, book.KnownSample:
			if !doubted {
				s.beside = append(s.beside, *l)
			}
		default:
			s.lines = append(s.lines, *l)
		}
	}
	s.lines, s.means = average(settle(s.lines, known))
	return s
}
