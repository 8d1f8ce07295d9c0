package kit

import (
	"time"

	"halfwater/quantity"
)

// Form is the kind of test.
type Form string

// The forms of test.
const (
	Drops Form = "drops" // counted until the colour changes
	Card  Form = "card"  // a colour held against printed steps
	Strip Form = "strip" // a card with few classes; never good enough to carry on by
	Meter Form = "meter" // a pen, probe, thermometer, hygrometer
)

// Kit is one test, card or meter: one lot of it, as it stands on the keeper's shelf.
type Kit struct {
	Name  string             // the keeper's word for it: "KH drops", "nitrate card"
	Of    quantity.Measurand // what it reads
	Form  Form
	Unit  string         // the unit of what it shows; one of Of.Units()
	Basis quantity.Basis // settled once for the lot; needed when Of.Bases() is not empty, be it NotStated

	PerDrop float64   // Drops: what one drop counts, in Unit; 1, or 0.5 and 0.25 with larger samples
	Steps   []float64 // Card, Strip: the printed steps in Unit, rising
	// Meter: the stated accuracy is the larger of the two; Digit is the last digit shown.
	Accuracy, AccuracyShare, Digit float64
	TDSFactor                      float64 // Meter of TDS: the factor printed on it (0.5, 0.64, 0.7); 0 unknown

	Lot        string
	Opened     time.Time // zero when not known
	UseBy      time.Time // zero when not known
	Calibrated time.Time // Meter; zero when never or not known
}

// Kind is the kind of fact.
func (Kit) Kind() string { return "kit" }

// Key tells one kit from another: a new lot under the same name replaces the old one from its date.
func (k Kit) Key() string { return k.Name }

// Interval is what a shown value says: the truth lies in (Lo, Hi] of the canonical unit of Of,
// but for the doubt of the kit itself ([Kit.Error]), which is the reader's to add. For a meter the
// interval is its accuracy, so that no more is to be added for a first estimate.
type Interval struct {
	Of quantity.Measurand
	quantity.Range[float64]
	OpenAbove bool // the top step of a card, "more than": Hi is then the span's end
	OpenBelow bool // the lowest step of a card without a zero: Lo is then the span's end
	// Likely is the same interval with an open end closed one step further on: what a first
	// estimate may draw from. It equals Range when no end is open.
	Likely quantity.Range[float64]
	// Middle is the one number that stands for the interval, canonical: the middle of Likely, on
	// the scale of the kit (geometric for a card).
	Middle float64
	// Repeat is the standard deviation, canonical, of reading the same water again with the same
	// kit in the same hour: what is left when two readings are compared and a gain cancels.
	Repeat float64
	Notes  []Note
	// Ways are what the value says on each basis that it may have; none when the basis is stated.
	Ways []Way
}

// Way is what a shown value says on one basis.
type Way struct {
	Basis quantity.Basis
	quantity.Range[float64]
}

// Note is the code of a remark that a reading carries; the sentence stands in internal/say.
type Note string

// The remarks.
const (
	OutOfDate        Note = "kit.out-of-date"        // past its use-by date, or open for over a year; the interval is widened
	CalibrationOld   Note = "kit.calibration-old"    // the interval is widened by the drift
	NeverCalibrated  Note = "kit.never-calibrated"   // or the date is not known; widened likewise
	CoarseStrip      Note = "kit.strip"              // one class wider; never good enough to carry on by
	WithoutKit       Note = "kit.none"               // the number was typed without a kit
	FactorNotPrinted Note = "kit.tds-factor-unknown" // EC from TDS by any factor between 0.5 and 0.7
	BasisNotStated   Note = "kit.basis-not-stated"   // as N or as the ion: the interval spans both
)

// Noted reports whether the reading carries a remark.
func (iv Interval) Noted(n Note) bool {
	for _, have := range iv.Notes {
		if have == n {
			return true
		}
	}
	return false
}
