package emergency

import (
	"time"

	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

// Maybe is a value that may be unknown.
type Maybe[T any] = husbandry.Maybe[T]

// Now is all that is known when the page opens. Everything may be missing.
type Now struct {
	Facts enclosure.Facts
	At    time.Time // by the clock of whoever asks
	// Held is the held water by level tests and changes, when someone has worked it out; else the box
	// alone tells.
	Held Maybe[quantity.Band[quantity.HeldLitres]]
	Read Read
	Room Maybe[quantity.Celsius]        // now; else the usual one of the facts
	Loss Maybe[quantity.WattsPerKelvin] // of the case, when the heater's hours have told it
	// OffSince is when the power went; zero when nobody says.
	OffSince time.Time
	// TempAt and OxygenAt are when those two were read; zero, or before the cut, counts as at the cut.
	TempAt, OxygenAt time.Time
	// TempDoubt is how far either way the water may have gone since its temperature was read (5 to 95 %);
	// 0 when it was read now.
	TempDoubt quantity.CelsiusDiff
	Seed      uint64
}

// from is from when hours count: the cut, or the reading that they start from when it is later. Zero
// when nobody says when the power went.
func (n Now) from(read time.Time) time.Time {
	if n.OffSince.IsZero() || read.Before(n.OffSince) || read.After(n.At) {
		return n.OffSince
	}
	return read
}

// later is how many hours after the cut that is.
func (n Now) later(read time.Time) Hours { return Hours(n.from(read).Sub(n.OffSince).Hours()) }

// Read is what was read of the water last.
type Read struct {
	Temp     Maybe[quantity.Celsius]
	Oxygen   Maybe[quantity.MgPerL]
	PH       Maybe[quantity.PH]
	KH       Maybe[quantity.Alkalinity]
	GH       Maybe[quantity.Hardness]
	EC       Maybe[quantity.Conductivity]
	TAN      Maybe[quantity.TotalAmmonia]
	NO2      Maybe[quantity.Nitrite]
	Chloride Maybe[quantity.MgPerL]
}

// Missing is a fact that would make the answer narrower, by the code of its sentence.
type Missing struct {
	Code string
	Who  string                            // which batch, water or number, where it is one
	Took *quantity.Range[quantity.Celsius] // what stood in for a temperature; nil for all else
}

// Codes of what is missing.
const (
	NoHeld      = "emergency.missing-held"
	NoStock     = "emergency.missing-stock"
	NoMass      = "emergency.missing-mass"
	NoKind      = "emergency.missing-kind"
	NoWaterTemp = "emergency.missing-water-temp"
	NoRoom      = "emergency.missing-room"
	NoHeater    = "emergency.missing-heater"
	NoFilter    = "emergency.missing-filter"
	NoPH        = "emergency.missing-ph"
	NoKH        = "emergency.missing-kh"
	NoTAN       = "emergency.missing-tan"
	NoSource    = "emergency.missing-source"
	BadSource   = "emergency.odd-source"
	OddNumber   = "emergency.odd-number"
	OddWater    = "emergency.odd-water" // pH and KH contradict each other
)

// sane takes away what cannot be, and names it: a slip of the pen must not shorten or lengthen
// anything.
func (n Now) sane() (Now, []Missing) {
	var odd []Missing
	n.Read.Temp = within(n.Read.Temp, 0, 45, "water temperature", &odd)
	if !(n.TempDoubt >= 0 && n.TempDoubt < 20) {
		n.TempDoubt = 20
	}
	n.Room = within(n.Room, -30, 50, "room", &odd)
	n.Loss = within(n.Loss, 0.5, 500, "heat loss", &odd)
	n.Read.Oxygen = within(n.Read.Oxygen, 0, 20, "oxygen", &odd)
	n.Read.PH = within(n.Read.PH, 3, 11, "pH", &odd)
	n.Read.KH = within(n.Read.KH, 0, 60, "KH", &odd)
	n.Read.GH = within(n.Read.GH, 0, 100, "GH", &odd)
	n.Read.EC = within(n.Read.EC, 0, 20000, "EC", &odd)
	n.Read.TAN = within(n.Read.TAN, 0, 100, "total ammonia", &odd)
	n.Read.NO2 = within(n.Read.NO2, 0, 100, "nitrite", &odd)
	n.Read.Chloride = within(n.Read.Chloride, 0, 20000, "chloride", &odd)
	if b, ok := n.Held.Get(); ok && !(b.Low > 0.1 && b.Low <= b.Median && b.Median <= b.High && b.High < 1e5) {
		n.Held = Maybe[quantity.Band[quantity.HeldLitres]]{}
		odd = append(odd, Missing{Code: OddNumber, Who: "held water"})
	}
	if n.OffSince.After(n.At) {
		n.OffSince = n.At
	}
	return n, odd
}

func within[Q quantity.Number](m Maybe[Q], lo, hi Q, name string, odd *[]Missing) Maybe[Q] {
	if x, ok := m.Get(); ok && !(x >= lo && x <= hi) {
		*odd = append(*odd, Missing{Code: OddNumber, Who: name})
		return Maybe[Q]{}
	}
	return m
}

// box is the water and the room with every unknown filled in by a span.
type box struct {
	held     spread // L
	surface  spread // m2 of open water; per litre when perLitre
	perLitre bool
	temp     spread // C
	unread   bool   // the temperature of the water is a guess
	room     spread // C, while the power is off
	steady   spread // C, the room with its own heating on
	loss     spread // W/K; per (m3)^(2/3) when byVolume
	byVolume bool
	pressure quantity.Atm
	kept     []husbandry.Kept
	missing  []Missing
}

func (n Now) box() box {
	b := box{pressure: 1}
	if h := n.Facts.About.Altitude; h > 0 && h < 6000 {
		b.pressure = water.PressureAt(h)
	}
	b.kept = kindsOf(n.Facts.Stock)
	n.size(&b)
	n.warmths(&b)
	return b
}

// size fills in the held water, its surface and the heat that the case loses.
func (n Now) size(b *box) {
	loss := spanOf("wet-over-volume")
	u := lossPerArea()
	b.loss, b.byVolume = spread{loss.lo * u.lo, loss.mid * u.mid, loss.hi * u.hi}, true
	depth := spanOf("depth-unknown")
	b.surface, b.perLitre = spread{0.001 / depth.hi, 0.001 / depth.mid, 0.001 / depth.lo}, true
	known := false
	if basin := n.Facts.Basin; basin != nil {
		if t, err := enclosure.NewLevelTable(*basin, nil); err == nil {
			if a := float64(t.Surface(basin.FullMark)); a > 0 {
				b.surface, b.perLitre = exactly(a), false
			}
			wet := 2*float64(basin.Length+basin.Width)*float64(basin.FullMark)/1e6 + 2*float64(basin.Footprint())
			b.loss, b.byVolume = u.times(wet), false
		}
		if h, err := enclosure.HeldWater(enclosure.Geometry{Basin: basin}, nil); err == nil {
			b.held, known = spreadOf(h.Held), true
		}
	}
	if h, ok := n.Held.Get(); ok {
		b.held, known = spreadOf(h), true
	}
	if !known {
		b.held = spanOf("held-unknown")
		b.missing = append(b.missing, Missing{Code: NoHeld})
	}
	if l, ok := n.Loss.Get(); ok {
		b.loss, b.byVolume = exactly(float64(l)), false
	}
}

// warmths fills in the temperatures of water and room.
func (n Now) warmths(b *box) {
	if t, ok := n.Read.Temp.Get(); ok {
		x, d := float64(t), float64(n.TempDoubt)
		b.temp = spread{x - d, x, x + d}
	} else {
		b.temp, b.unread = spanOf("water-temp-unknown"), true
		b.missing = append(b.missing, Missing{Code: NoWaterTemp, Took: b.temp.celsius()})
	}
	drop := spanOf("room-drop")
	room, ok := n.Room.Get()
	if usual := n.Facts.About.Room; !ok && usual > -30 && usual < 50 && usual != 0 {
		room, ok = usual, true
	}
	if !ok {
		b.room = spanOf("room-unknown")
		b.steady = b.room
		b.missing = append(b.missing, Missing{Code: NoRoom, Took: b.room.celsius()})
		return
	}
	r := float64(room)
	b.steady = exactly(r)
	b.room = spread{r - drop.hi, r - drop.mid, r - drop.lo}
}

// kindsOf are the kinds of the stock that stand in the table.
func kindsOf(stock []enclosure.Batch) []husbandry.Kept {
	var out []husbandry.Kept
	for _, s := range stock {
		if k, ok := kindOf(s); ok && s.Count > 0 {
			out = append(out, k)
		}
	}
	return out
}

func kindOf(s enclosure.Batch) (husbandry.Kept, bool) {
	found, err := husbandry.Lookup(s.Species)
	if err != nil {
		return husbandry.Kept{}, false
	}
	k := husbandry.Grown(found)
	if s.Larvae {
		k.Stage = husbandry.Larva
	}
	return k, true
}

// ranges are the lines and step limits of the stock, the strictest when a kind is unknown. Ranges that
// contradict each other do not matter here.
func (n Now) ranges() enclosure.Ranges {
	r, _ := enclosure.KeepingRanges(n.Facts.Stock, n.Facts.Wanted)
	return r
}

func (n Now) lines() husbandry.Lines { return n.ranges().Lines(n.Read.Chloride) }
