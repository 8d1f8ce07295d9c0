package husbandry

import (
	"math"

	"halfwater/quantity"
)

// When is the part of the day for which a need holds. The zero value is always.
type When string

// The parts of the day of a need.
const (
	Always    When = ""
	InTheDay  When = "day"
	InTheDark When = "night"
)

// Need is the span in which one kind of animal or plant wants one measurand, in the canonical
// unit of the measurand. An open end is an infinity. FromPlant marks a need that only a plant has.
type Need struct {
	Of        quantity.Measurand
	When      When
	Range     quantity.Range[float64]
	Who       string // common name
	Stage     Stage
	FromPlant bool
	Reason    Code
}

// Codes of needs: why a span counts, or why it was left out.
const (
	NeedOwnRange     Code = "need.own-range"     // the species' own keeping range
	NeedUVZone       Code = "need.uv-zone"       // the UV zone of the species
	NeedOnlySplashes Code = "need.only-splashes" // left out: an air breather that only splashes
	NeedNoWater      Code = "need.no-water"      // left out: a plant of the land
	NeedOutOfWater   Code = "need.out-of-water"  // left out: a larva is not on land yet
)

// Needs gives what one kind wants of water, air and light, in a fixed order. Ranges of GH, KH,
// pH and nitrate of air breathers that only splash are not among them (see [LeftOut]); nor is
// what is unknown. Larvae of amphibians have no needs of the air.
func Needs(k Kept) []Need { in, _ := needs(k); return in }

// LeftOut gives the ranges in the table that do not count for this kind, each with its reason.
func LeftOut(k Kept) []Need { _, out := needs(k); return out }

func needs(k Kept) (in, out []Need) {
	s := k.Species
	add := func(list *[]Need, of quantity.Measurand, when When, r quantity.Range[float64], why Code) {
		*list = append(*list, Need{of, when, r, s.Common, k.Stage, s.Group == Plant, why})
	}
	water, why := &in, NeedOwnRange
	switch {
	case k.Use() == Landed:
		water, why = &out, NeedNoWater
	case !k.HoldsWater():
		water, why = &out, NeedOnlySplashes
	}
	if r, ok := bare(s.GH); ok {
		add(water, quantity.OfGH, Always, r, why)
	}
	if r, ok := bare(s.KH); ok {
		add(water, quantity.OfKH, Always, r, why)
	}
	if r, ok := bare(s.PH); ok {
		add(water, quantity.OfPH, Always, r, why)
	}
	if top, ok := s.Nitrate.Get(); ok {
		add(water, quantity.OfNO3, Always, quantity.Range[float64]{Lo: 0, Hi: float64(top)}, why)
	}
	bath, why := &in, NeedOwnRange
	if k.Use() == Landed {
		bath, why = &out, NeedNoWater
	}
	if r, ok := bare(s.WaterTemp); ok {
		add(bath, quantity.OfWaterTemp, Always, r, why)
	}

	air, why := &in, NeedOwnRange
	if k.Larva() {
		air, why = &out, NeedOutOfWater
	}
	if r, ok := bare(s.AirDay); ok {
		add(air, quantity.OfAirTemp, InTheDay, r, why)
	}
	if low, ok := s.NightMin.Get(); ok {
		add(air, quantity.OfAirTemp, InTheDark, quantity.Range[float64]{Lo: float64(low), Hi: math.Inf(1)}, why)
	}
	if r, ok := bare(s.Basking); ok {
		add(air, quantity.OfBaskingTemp, InTheDay, r, why)
	}
	if r, ok := bare(s.Humidity); ok {
		add(air, quantity.OfHumidity, Always, r, why)
	}
	if z, ok := s.UVZones.Get(); ok {
		r := z.Range()
		if why == NeedOwnRange {
			why = NeedUVZone
		}
		add(air, quantity.OfUVI, InTheDay, quantity.Range[float64]{Lo: float64(r.Lo), Hi: float64(r.Hi)}, why)
	}
	return in, out
}

func bare[Q quantity.Number](m Maybe[quantity.Range[Q]]) (quantity.Range[float64], bool) {
	r, ok := m.Get()
	return quantity.Range[float64]{Lo: float64(r.Lo), Hi: float64(r.Hi)}, ok
}
