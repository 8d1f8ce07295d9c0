package emergency

import (
	"slices"
	"time"

	"halfwater/caution"
)

// Sheet is the emergency page: what to do first, then the numbers.
type Sheet struct {
	Enclosure  string // its name; "" when it has none
	At         time.Time
	Warning    Act               // before your hands go in
	Cautions   []caution.Caution // before any number
	Signs      []Sign
	Power      PowerCut
	Heater     HeaterFault
	Ammonia    Ammonia
	Nitrite    Nitrite
	Matters    []Matter
	Afterwards []Act
	Missing    []Missing // what would make the numbers narrower
}

// triggers are the cautions of this page, whatever has happened.
var triggers = []caution.Trigger{
	caution.RedFlag, caution.Mains, caution.LevelFalls, caution.Generator, caution.WetFloor, caution.Hygiene,
}

// Write makes the sheet from what is known, however little.
func Write(n Now) Sheet {
	n, odd := n.sane()
	b := n.box()
	s := Sheet{
		Enclosure: n.Facts.About.Name, At: n.At, Warning: Warning(), Cautions: caution.For(triggers...),
		Signs: Signs(), Matters: Matters(), Afterwards: Afterwards(), Nitrite: n.nitrite(),
	}
	var ofPower, ofHeater []Missing
	s.Power, ofPower = n.power(b)
	s.Heater, ofHeater = n.heater(b)
	s.Ammonia = n.ammonia(b)
	s.Missing = slices.Concat(odd, b.missing, ofPower, ofHeater)
	return s
}
