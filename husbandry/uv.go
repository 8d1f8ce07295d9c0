package husbandry

import (
	"fmt"
	"strconv"
	"strings"

	"halfwater/quantity"
)

// UVZones is a span of Ferguson zones, 1 to 4: how much sun a species seeks.
type UVZones struct{ From, To int }

// readZones reads "2" or "2-3".
func readZones(text string) (UVZones, error) {
	from, to, two := strings.Cut(text, "-")
	if !two {
		to = from
	}
	a, errA := strconv.Atoi(from)
	b, errB := strconv.Atoi(to)
	if errA != nil || errB != nil || a < 1 || b < a || b > 4 {
		return UVZones{}, fmt.Errorf("UV zone %q is not one of 1 to 4, or two of them", text)
	}
	return UVZones{a, b}, nil
}

// Range is the UV index at the animal's back at the middle of the day, with a gradient to zero
// beside it. A zone outside 1 to 4 is a fault of the program.
//
// Source: Ferguson et al. 2010, Zoo Biol. 29:317-334, by way of a secondary source.
func (z UVZones) Range() quantity.Range[quantity.UVIndex] {
	return quantity.Range[quantity.UVIndex]{
		Lo: quantity.UVIndex(constants.Value(fmt.Sprintf("uv-zone-%d-low", z.From))),
		Hi: quantity.UVIndex(constants.Value(fmt.Sprintf("uv-zone-%d-high", z.To))),
	}
}
