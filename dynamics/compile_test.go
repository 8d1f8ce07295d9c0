package dynamics_test

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/demo"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/internal/files"
)

// riverbank is the book of the demo enclosure.
func riverbank(t *testing.T) []book.Line {
	t.Helper()
	n := 0
	o := files.Options{Now: demo.Clock(), Zone: time.UTC, NewID: func() book.ID { n++; return book.ID(fmt.Sprintf("%06d", n)) }}
	lines, err := files.ReadPair(bytes.NewReader(demo.Enclosure), bytes.NewReader(demo.Book), o)
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

func TestCompileRiverbank(t *testing.T) {
	lines := riverbank(t)
	to := demo.Clock()
	c, err := dynamics.Compile(lines, dynamics.Window{From: to.Add(-26 * 7 * 24 * time.Hour), To: to})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("held %.1f surface %.2f stages %v pieces %d events %d changes %d losses %d loadSD %.2f notes %v", c.Held, c.Surface, c.Stages, len(c.Pieces), len(c.Events), c.Changes, len(c.Losses), c.LoadSD, c.Notes)
	for _, p := range c.Pieces[:5] {
		t.Logf("%+v", p)
	}
	for _, e := range c.Events[:8] {
		t.Logf("%+v", e)
	}
	p, d := dynamics.Book(), c.Deviations()
	tap := c.Events[slices.IndexFunc(c.Events, func(e dynamics.Event) bool { return e.Change > 0 })].Pour
	s := c.Mature(&p, tap, 0.2, 0.5)
	for day := 0.0; day < c.Days; day += 26 {
		s = c.Run(&p, &d, s, day, nil, nil, dynamics.Careful)
		t.Logf("day %.0f V %.1f NO3 %.1f TAN %.3f NO2 %.3f KH %.2f GH %.1f pH %.2f O2 %.1f DOC %.1f P %.2f", day, s.Volume, s.Nitrate().AsNO3(), s.TotalAmmonia(), s.Nitrite(), s.KH(), s.GH(), s.PH(), s.DissolvedOxygen(), s.DOC/s.Volume, s.Phosphate())
	}
	if x := s.Charge(); x > 1e-6*s.Volume || x < -1e-6*s.Volume {
		t.Errorf("charge %g meq", x)
	}
}

func TestCompileRefuses(t *testing.T) {
	now := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	var bad dynamics.BadWindow
	if _, err := dynamics.Compile(nil, dynamics.Window{From: now, To: now}); !errors.As(err, &bad) {
		t.Error(err)
	}
	var long dynamics.TooLong
	if _, err := dynamics.Compile(nil, dynamics.Window{From: now, To: now.AddDate(20, 0, 0)}); !errors.As(err, &long) {
		t.Error(err)
	}
	var held enclosure.HeldUnknown
	if _, err := dynamics.Compile(nil, dynamics.Window{From: now, To: now.AddDate(0, 1, 0)}); !errors.As(err, &held) {
		t.Error(err)
	}
	c, err := dynamics.Compile(nil, dynamics.Window{From: now, To: now.AddDate(0, 1, 0), Held: 50})
	if err != nil || len(c.Pieces) == 0 || c.Pieces[len(c.Pieces)-1].To != c.Days {
		t.Error("an empty book is a quiet course", err, c)
	}
}
