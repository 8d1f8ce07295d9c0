package enclosure

import (
	"fmt"
	"math"

	"halfwater/quantity"
)

// GrossForDose refuses to dose by the size on the label of the box.
type GrossForDose struct {
	Label    quantity.GrossLitres
	Held     quantity.Band[quantity.HeldLitres]
	Overdose quantity.Share // what the label would give too much, by the median; 0.54 for 54 %
}

func (e GrossForDose) Error() string {
	return fmt.Sprintf("a dose for %.0f L of the label is %.0f %% too much: the box holds %.0f L (%.0f to %.0f); dose for the held water",
		e.Label, 100*e.Overdose, e.Held.Median, e.Held.Lo, e.Held.Hi)
}

// DoseLitres are the litres to dose for: the held water, and never the size of the box. A size that
// somebody offers instead (label; 0 when none) is refused with [GrossForDose], which says by how much
// it would overdose.
func (h HeldEstimate) DoseLitres(label quantity.GrossLitres) (quantity.HeldLitres, error) {
	if label > 0 {
		over := float64(label)/float64(h.Held.Median) - 1
		return 0, GrossForDose{label, h.Held, quantity.Share(over)}
	}
	return h.Held.Median, nil
}

// WhichGallon asks which gallon a size is in; the imperial one is 20 % larger.
type WhichGallon struct {
	Gallons      float64
	US, Imperial quantity.GrossLitres
}

func (e WhichGallon) Error() string {
	return fmt.Sprintf("%g gallons: US (%.0f L) or imperial (%.0f L)? They differ by 20 %%", e.Gallons, e.US, e.Imperial)
}

// LabelSize reads the size on a label: in "L", "US gal" or "imp gal". "gal" alone is refused with
// [WhichGallon] (3.785 or 4.546 L), another unit with [Fault].
func LabelSize(size float64, unit string) (quantity.GrossLitres, error) {
	if !(size > 0) || math.IsInf(size, 0) {
		return 0, Fault{Of: "label", Field: "size", Code: "enclosure.label-size", Is: fmt.Sprintf("is %g", size), Do: "give a positive number"}
	}
	us, imperial := quantity.GrossLitres(quantity.USGallons(size)), quantity.GrossLitres(quantity.ImperialGallons(size))
	switch unit {
	case "L":
		return quantity.GrossLitres(size), nil
	case "US gal":
		return us, nil
	case "imp gal":
		return imperial, nil
	case "gal":
		return 0, WhichGallon{size, us, imperial}
	}
	return 0, Fault{Of: "label", Field: "unit", Code: "enclosure.label-unit", Is: fmt.Sprintf("is %q", unit), Do: "use L, US gal or imp gal"}
}
