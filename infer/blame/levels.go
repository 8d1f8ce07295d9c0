package blame

import (
	"math"

	"halfwater/book"
	"halfwater/quantity"
)

// Risen names levels that rose while no water is written down as poured in: a top-up that was forgotten, a staff
// misread, or water that came by itself, from mist, drip or drainage. A level falls by evaporation; it rises by no
// other way.
func Risen(lines []book.Line) []Contradiction {
	var out []Contradiction
	var last *book.Line
	for i := range lines {
		l := &lines[i]
		switch b := l.Body.(type) {
		case book.Change, book.TopUp, book.LevelTest:
			last = nil
		case book.Reading:
			if b.Of != quantity.OfLevel || !(b.Lo <= b.Hi) {
				continue
			}
			if last != nil {
				if c, ok := rose(last, l); ok {
					out = append(out, c)
				}
			}
			last = l
		}
	}
	return out
}

// rose weighs one rise, in millimetres.
func rose(before, after *book.Line) (Contradiction, bool) {
	a, b := before.Body.(book.Reading), after.Body.(book.Reading)
	rise := (b.Lo+b.Hi)/2 - (a.Lo+a.Hi)/2
	sd := math.Sqrt(2*square(value("level.sd")) + (square(a.Hi-a.Lo)+square(b.Hi-b.Lo))/12)
	if rise < sd {
		return Contradiction{}, false
	}
	chance := math.Exp(-square(rise/sd)/2) / (sd * math.Sqrt(2*math.Pi))
	usual := value("level.topup")
	forgot := value("level.forgot") * math.Exp(-rise/usual) / usual
	misread := 2 * value("level.odd") / value("level.range")
	itself := value("level.itself") * math.Exp(-rise/value("level.seep")) / value("level.seep")
	sum := chance + forgot + misread + itself
	if chance > sum/2 {
		return Contradiction{}, false
	}
	c := Contradiction{Of: quantity.OfLevel, Lines: []book.ID{before.ID, after.ID}, Checks: []string{"infer.check-log", "infer.check-level"}}
	c.blame([]Culprit{
		{Code: ByLog, Name: "top-up", Odds: forgot / sum},
		{Code: ByReading, Name: string(after.ID), Odds: misread / sum},
		{Code: ByWater, Odds: itself / sum},
		{Code: ByChance, Odds: chance / sum},
	})
	return c, true
}
