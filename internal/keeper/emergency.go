package keeper

import (
	"context"
	"math"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/emergency"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
)

// Ask is what a person types on the emergency page or behind the command, as text; all of it may be
// empty. Numbers are in °C, mg/L (ammonia and nitrite as N), °dH and µS/cm.
type Ask struct {
	PowerOffSince string // "02:10", or with a day: "2026-11-22 02:10"
	WaterTemp     string
	Room          string
	Oxygen        string
	PH            string
	KH            string
	GH            string
	EC            string
	TAN           string
	NO2           string
	Chloride      string
}

// Emergency is the sheet and the table of hours, and which readings of the book went into it.
type Emergency struct {
	Sheet emergency.Sheet
	Table emergency.Table
	Reads []Taken
	Vet   string // the vet's number as the book has it
}

// Taken is a reading of the book that was used.
type Taken struct {
	Of    quantity.Measurand
	Value float64 // canonical
	At    time.Time
}

// freshFor is how old a reading may be to count in an emergency: oxygen turns within a night, salts hardly
// in a season, the temperature within a day and then with the room. Judgement.
func freshFor(of quantity.Measurand) time.Duration {
	const day = 24 * time.Hour
	switch of {
	case quantity.OfOxygen:
		return tempKnown
	case quantity.OfWaterTemp:
		return 30 * day
	case quantity.OfGH, quantity.OfKH, quantity.OfEC, quantity.OfChloride:
		return 60 * day
	}
	return 7 * day
}

// tempKnown is for how long a temperature counts as read; then it is this much doubted, and more by
// the week. Judgement.
const (
	tempKnown    = 12 * time.Hour
	tempOld      = 0.5 // °C either way
	tempOldByDay = 0.5 / 7
)

// tempDoubt is how far the water may have gone from a temperature read so long ago.
func tempDoubt(age time.Duration) quantity.CelsiusDiff {
	if age <= tempKnown {
		return 0
	}
	return quantity.CelsiusDiff(tempOld + tempOldByDay*age.Hours()/24)
}

// Emergency makes the sheet of one water body from its facts and its last readings, and from what is
// typed. It estimates nothing, so it also answers when the belief does not.
func (k *Keeper) Emergency(ctx context.Context, enclosureID, waterBody string, a Ask) (Emergency, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil {
		return Emergency{}, err
	}
	now := k.now()
	n := emergency.Now{Facts: book.FactsAt(lines, waterBody, now, known(lines, now)), Seed: Seed(enclosureID)}
	if held, _, ok := infer.Held(infer.Window{Lines: lines, Water: waterBody, At: now, Recorded: known(lines, now)}); ok {
		n.Held = husbandry.Known(held.Held)
	}
	reads := lastReads(lines, waterBody, now)
	e, err := answer(n, reads, a, now)
	e.Vet = n.Facts.About.Vet
	return e, err
}

// EmergencyWithoutBook makes the sheet when there is no book, or it cannot be read.
func EmergencyWithoutBook(a Ask, now time.Time) (Emergency, error) {
	return answer(emergency.Now{}, nil, a, now)
}

// answer lays what was typed over what was read, and writes the sheet.
func answer(n emergency.Now, reads []Taken, a Ask, now time.Time) (Emergency, error) {
	n.At = now
	for _, r := range reads {
		n.Read = put(n.Read, r.Of, r.Value)
		if r.Of == quantity.OfWaterTemp {
			n.TempAt, n.TempDoubt = r.At, tempDoubt(now.Sub(r.At))
		}
		if r.Of == quantity.OfOxygen {
			n.OxygenAt = r.At
		}
	}
	for _, t := range []struct {
		field, text string
		of          quantity.Measurand
	}{
		{"water-temp", a.WaterTemp, quantity.OfWaterTemp},
		{"oxygen", a.Oxygen, quantity.OfOxygen},
		{"ph", a.PH, quantity.OfPH},
		{"kh", a.KH, quantity.OfKH},
		{"gh", a.GH, quantity.OfGH},
		{"ec", a.EC, quantity.OfEC},
		{"tan", a.TAN, quantity.OfTAN},
		{"no2", a.NO2, quantity.OfNO2},
		{"chloride", a.Chloride, quantity.OfChloride},
	} {
		x, ok, err := typed(t.field, t.text, t.of)
		if err != nil {
			return Emergency{}, err
		}
		if ok {
			n.Read = put(n.Read, t.of, x)
			reads = without(reads, t.of)
			switch t.of { // typed is read now
			case quantity.OfWaterTemp:
				n.TempAt, n.TempDoubt = now, 0
			case quantity.OfOxygen:
				n.OxygenAt = now
			}
		}
	}
	room, ok, err := typed("room", a.Room, quantity.OfAirTemp)
	if err != nil {
		return Emergency{}, err
	}
	if ok {
		n.Room = husbandry.Known(quantity.Celsius(room))
	}
	if n.OffSince, err = Since(a.PowerOffSince, now); err != nil {
		return Emergency{}, err
	}
	return Emergency{Sheet: emergency.Write(n), Table: emergency.HoursTable(n), Reads: reads}, nil
}

func put(r emergency.Read, of quantity.Measurand, x float64) emergency.Read {
	switch of {
	case quantity.OfWaterTemp:
		r.Temp = husbandry.Known(quantity.Celsius(x))
	case quantity.OfOxygen:
		r.Oxygen = husbandry.Known(quantity.MgPerL(x))
	case quantity.OfPH:
		r.PH = husbandry.Known(quantity.PH(x))
	case quantity.OfKH:
		r.KH = husbandry.Known(quantity.Alkalinity(x))
	case quantity.OfGH:
		r.GH = husbandry.Known(quantity.Hardness(x))
	case quantity.OfEC:
		r.EC = husbandry.Known(quantity.Conductivity(x))
	case quantity.OfTAN:
		r.TAN = husbandry.Known(quantity.TotalAmmonia(x))
	case quantity.OfNO2:
		r.NO2 = husbandry.Known(quantity.Nitrite(x))
	case quantity.OfChloride:
		r.Chloride = husbandry.Known(quantity.MgPerL(x))
	}
	return r
}

// typed reads one number; nothing typed is nothing known.
func typed(field, text string, of quantity.Measurand) (x float64, ok bool, err error) {
	if strings.TrimSpace(text) == "" {
		return 0, false, nil
	}
	x, err = quantity.ReadNumber(text)
	if err == nil && !of.Span().Has(x) {
		err = quantity.OutOfSpan{Of: of, X: x, Unit: of.Unit()}
	}
	if err != nil {
		f := bad(err)
		f.Field = field
		return 0, false, f
	}
	return x, true, nil
}

// Since reads when the power went: an hour of today, of yesterday when today has not come so far, or a
// day and an hour.
func Since(text string, now time.Time) (time.Time, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return time.Time{}, nil
	}
	if t, err := time.ParseInLocation("2006-01-02 15:04", text, now.Location()); err == nil {
		if t.After(now) {
			return time.Time{}, withField(bad(FutureTime{t, now}), "power-off-since")
		}
		return t, nil
	}
	t, err := time.ParseInLocation("15:04", text, now.Location())
	if err != nil {
		return time.Time{}, withField(bad(NoClock{text}), "power-off-since")
	}
	t = time.Date(now.Year(), now.Month(), now.Day(), t.Hour(), t.Minute(), 0, 0, now.Location())
	if t.After(now) {
		t = t.AddDate(0, 0, -1)
	}
	return t, nil
}

func withField(f *Fault, field string) *Fault { f.Field = field; return f }

// NoClock is a text that is no time of the clock.
type NoClock struct{ Text string }

func (e NoClock) Error() string {
	return "\"" + e.Text + "\" is no time of the clock: write 02:10, or 2026-11-22 02:10"
}

// lastReads are the last readings of the water that are still fresh, each as the number to act on: the
// middle of what the kit leaves open, and its upper end for ammonia and nitrite: twice the last colour where the card ends.
func lastReads(lines []book.Line, waterBody string, now time.Time) []Taken {
	aside := book.SetAsides(lines, known(lines, now))
	last := map[quantity.Measurand]Taken{}
	for _, l := range book.Standing(lines, known(lines, now)) {
		r, ok := l.Body.(book.Reading)
		if _, doubted := aside[l.ID]; !ok || doubted || l.Water != waterBody || l.At.After(now) {
			continue
		}
		x := r.Lo + (r.Hi-r.Lo)/2
		if r.Of == quantity.OfTAN || r.Of == quantity.OfNO2 {
			x = r.Hi
			if r.Hi >= r.Of.Span().Hi { // the card ends there
				x = 2 * r.Lo
			}
		}
		if now.Sub(l.At) > freshFor(r.Of) || math.IsNaN(x) || math.IsInf(x, 0) {
			continue
		}
		last[r.Of] = Taken{r.Of, x, l.At}
	}
	var out []Taken
	for _, of := range []quantity.Measurand{
		quantity.OfWaterTemp, quantity.OfOxygen, quantity.OfPH, quantity.OfKH, quantity.OfGH, quantity.OfEC, quantity.OfTAN,
		quantity.OfNO2, quantity.OfChloride,
	} {
		if t, ok := last[of]; ok {
			out = append(out, t)
		}
	}
	return out
}

func without(reads []Taken, of quantity.Measurand) []Taken {
	var out []Taken
	for _, r := range reads {
		if r.Of != of {
			out = append(out, r)
		}
	}
	return out
}

// FutureTime is a time later than now, for something that has happened.
type FutureTime struct{ At, Now time.Time }

// Code is the code of the sentence.
func (FutureTime) Code() string { return "door.future" }

func (f FutureTime) Error() string {
	return "the time lies in the future: " + f.At.Format(time.RFC3339)
}
