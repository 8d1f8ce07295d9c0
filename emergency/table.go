package emergency

import (
	"time"

	"halfwater/husbandry"
	"halfwater/quantity"
)

// Table is the hours of a power cut before it happens: by water temperature and by the hour at which
// the power goes. It is made for one day and one stock and grows old.
type Table struct {
	Made    time.Time
	Code    string // OxygenHours, OxygenNobody
	Rows    []Row
	Missing []Missing
}

// Row is one water temperature.
type Row struct {
	Temp   quantity.Celsius
	Starts []Start
	// Cold and Warm are the first lines that the water reaches from that temperature; nil when none
	// within [Longest].
	Cold, Warm *Reaches
}

// Start is one hour at which the power goes.
type Start struct {
	Hour    int // of the clock, 0 to 23
	CountOn Hours
	Lasts   quantity.Band[Hours]
	Until   time.Duration // of the clock after midnight, at CountOn; less than 24 h
}

// Stale is how old a kept table may be before a newer one is offered. Judgement.
const Stale = 7 * 24 * time.Hour

// IsStale reports whether a table made then is too old now. One that says it was made in the future is
// too old: some clock is wrong.
func IsStale(made, now time.Time) bool {
	age := now.Sub(made)
	return age > Stale || age < -24*time.Hour
}

// ByNight and ByDay are two of the hours of the table, one for each sort: at night the water has less
// oxygen to begin with.
const (
	ByNight = 2
	ByDay   = 14
)

// temps and starts are the rows and columns of the table.
var (
	temps  = []quantity.Celsius{16, 18, 20, 22, 24, 26, 28, 30}
	starts = []int{ByNight, 6, 10, ByDay, 18, 22}
)

// HoursTable makes the table.
func HoursTable(n Now) Table {
	n, _ = n.sane()
	t := Table{Made: n.At, Code: OxygenHours}
	n.Read.Oxygen = Maybe[quantity.MgPerL]{} // the readings of now say nothing of another day
	n.TempAt, n.OxygenAt, n.TempDoubt = time.Time{}, time.Time{}, 0
	for _, temp := range temps {
		n.Read.Temp = husbandry.Known(temp)
		row := Row{Temp: temp}
		b := n.box()
		for _, hour := range starts {
			n.OffSince = time.Date(n.At.Year(), n.At.Month(), n.At.Day(), hour, 0, 0, 0, n.At.Location())
			o, missing := n.oxygen(b)
			t.Code, t.Missing = o.Code, append(b.missing, missing...)
			until := (duration(Hours(hour)) + duration(o.CountOn)) % (24 * time.Hour)
			row.Starts = append(row.Starts, Start{hour, o.CountOn, o.Lasts, until})
		}
		for _, l := range n.curve(CurveNoPower, b, exactly(0), b.room).Lines {
			switch {
			case l.Code == TooCold && row.Cold == nil:
				row.Cold = &l
			case l.Code == TooWarm && row.Warm == nil:
				row.Warm = &l
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
