package husbandry

// Warmth gives the lines of the water temperature for one kind, in degrees Celsius: too warm, and
// too cold. ok is false when its range is not known, or it never stands in the water.
//
// The watch lines are the ends of its own range. Warm water hurts newts, larvae of amphibians and
// kinds marked heat-sensitive within hours: for these the act line stands 1 K past the range, and
// the emergency line at 24 C, or at the act line where the range itself reaches that far. For
// others the act line stands 2 K past the range and the emergency line 4 K. Judgement, after
// common practice; measured critical maxima of amphibians lie 8 K and more above the ranges.
func Warmth(k Kept) (warm, cold Line, ok bool) {
	r, ok := k.Species.WaterTemp.Get()
	if !ok || k.Use() == Landed {
		return Line{}, Line{}, false
	}
	who := k.Species.Common
	top, bottom := float64(r.Hi), float64(r.Lo)
	act, emergency := lines.Value("warmth-act"), lines.Value("warmth-emergency")
	cold = Line{
		Of: WaterCold, Unit: "C", Below: true, Watch: Known(bottom), Act: Known(bottom - act),
		Emergency: Known(bottom - emergency), Why: []Because{{WhyOwnRange, who}},
	}
	warm = Line{
		Of: WaterWarm, Unit: "C", Watch: Known(top), Act: Known(top + act), Emergency: Known(top + emergency),
		Why: []Because{{WhyOwnRange, who}},
	}
	if k.Species.Group == Newt || k.Larva() || k.Species.Has(HeatHurts) {
		acts := top + lines.Value("warmth-act-cool")
		warm.Act, warm.Emergency = Known(acts), Known(max(acts, lines.Value("warmth-emergency-cool")))
		warm.Why = []Because{{WhyHeatHurts, who}}
	}
	return warm, cold, true
}

// The things of which [Warmth] has lines, in C.
const (
	WaterWarm Watched = "water too warm"
	WaterCold Watched = "water too cold"
)

// Codes of why a line of temperature is what it is.
const (
	WhyOwnRange  Code = "line.own-range"
	WhyHeatHurts Code = "line.heat-hurts"
)
