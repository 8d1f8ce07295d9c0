package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"halfwater/book"
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
	"halfwater/internal/store"
)

type emergencyCmd struct {
	PowerOffSince string `help:"When the power went: 02:10, or 2026-11-22 02:10." placeholder:"CLOCK"`
	WaterTemp     string `help:"Water temperature now, °C." placeholder:"N"`
	Room          string `help:"Temperature of the room now, °C." placeholder:"N"`
	Oxygen        string `help:"Oxygen now, mg/L." placeholder:"N"`
	PH            string `help:"pH now." name:"ph" placeholder:"N"`
	KH            string `help:"KH now, °dKH." name:"kh" placeholder:"N"`
	GH            string `help:"GH now, °dGH." name:"gh" placeholder:"N"`
	EC            string `help:"EC now, µS/cm." name:"ec" placeholder:"N"`
	TAN           string `help:"Total ammonia now, mg/L as N." name:"tan" placeholder:"N"`
	NO2           string `help:"Nitrite now, mg/L as N." name:"no2" placeholder:"N"`
	Chloride      string `help:"Chloride now, mg/L." placeholder:"N"`
	Vet           string `help:"The vet's number, for the page and the sheet (else that of the book)." env:"HALFWATER_VET" placeholder:"NUMBER"`
	Sheet         string `help:"Write the page as one file that needs nothing else; printed it is the A4 by the tank." placeholder:"FILE.html"`
	Timeline      string `help:"Print what the book holds since then, by the clock: 02:10, or 2026-11-22 02:10." placeholder:"CLOCK"`
	JSON          bool   `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (emergencyCmd) Help() string {
	return `Example:
  halfwater emergency
  halfwater emergency --power-off-since 02:10 --water-temp 24
  halfwater emergency --tan 2.8 --ph 6.5 --kh 0.4
  halfwater emergency --sheet emergency.html
  halfwater add incident sign=power what="power off" at="2026-11-22 02:10"
  halfwater emergency --timeline 02:00

It works with no book at all; what is missing is then named, and the hours are the widest.`
}

// Run prints the first acts and the numbers, writes the file to keep, or prints the timeline.
func (c *emergencyCmd) Run(w *world) error {
	if c.Timeline != "" {
		return c.timeline(w)
	}
	e, err := c.answer(w)
	if err != nil {
		return err
	}
	if c.JSON && c.Sheet == "" {
		return report.JSON(w.out, e)
	}
	vet := cmp.Or(c.Vet, e.Vet)
	v := report.Emergency(e.Sheet, e.Table, report.EmergencyOptions{Vet: vet, Read: report.TakenWords(e.Reads)})
	if c.Sheet == "" {
		return report.EmergencyText(w.out, v)
	}
	return c.write(w, v)
}

// answer asks the book when there is one. A book that cannot be read is said, and does not stop the
// first acts.
func (c *emergencyCmd) answer(w *world) (keeper.Emergency, error) {
	ask := keeper.Ask{
		PowerOffSince: c.PowerOffSince, WaterTemp: c.WaterTemp, Room: c.Room, Oxygen: c.Oxygen, PH: c.PH, KH: c.KH, GH: c.GH,
		EC: c.EC, TAN: c.TAN, NO2: c.NO2, Chloride: c.Chloride,
	}
	if !bookThere(w.book) {
		return keeper.EmergencyWithoutBook(ask, w.now())
	}
	s, k, err := w.open()
	if err == nil {
		defer s.Close()
		var e keeper.Emergency
		if e, err = k.Emergency(w.ctx, w.id, book.MainWater, ask); err == nil {
			return e, nil
		}
	}
	var f *keeper.Fault
	if errors.As(err, &f) && f.Kind == keeper.Bad {
		return keeper.Emergency{}, err
	}
	fmt.Fprintln(w.errOut, say.Sentence("emergency.no-book", err.Error()))
	return keeper.EmergencyWithoutBook(ask, w.now())
}

// bookThere reports whether there is a book to ask; none is made in an emergency.
func bookThere(path string) bool {
	if path == "" {
		var err error
		if path, err = store.DefaultPath(); err != nil {
			return false
		}
	}
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// write makes the file; one of the same name is replaced, for it is older.
func (c *emergencyCmd) write(w *world, v report.EmergencyView) error {
	var page bytes.Buffer
	if err := report.EmergencyFile(&page, v, ""); err != nil {
		return err
	}
	if err := os.WriteFile(c.Sheet, page.Bytes(), 0o644); err != nil { // to be read by whoever stands at the tank
		return &keeper.Fault{Kind: keeper.Bad, Field: "sheet", Say: say.Sentence("emergency.no-file", c.Sheet), Err: err}
	}
	fmt.Fprintln(w.out, say.Sentence("emergency.file-written", c.Sheet))
	return nil
}

// timeline prints what the book holds from an hour until now.
func (c *emergencyCmd) timeline(w *world) error {
	now := w.now()
	from, err := keeper.Since(c.Timeline, now)
	if err != nil {
		return err
	}
	s, k, err := w.openThere()
	if err != nil {
		return err
	}
	defer s.Close()
	moments, err := k.Timeline(w.ctx, w.id, from, now)
	if err != nil {
		return err
	}
	if c.JSON {
		return report.JSON(w.out, report.Timeline(moments))
	}
	return report.TimelineText(w.out, moments, from, now)
}
