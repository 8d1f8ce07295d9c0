package husbandry

import (
	_ "embed"

	"halfwater/cite"
	"halfwater/quantity"
)

//go:embed lines.txt
var linesText string

var lines = cite.MustParse(linesText)

// Watched is a thing with lines.
type Watched string

// The things with lines, and the unit of their numbers.
const (
	FreeAmmonia      Watched = "free ammonia"                 // mg NH3-N/L
	AmmoniaShare     Watched = "total ammonia over criterion" // TAN over the chronic criterion at this pH and temperature
	NitriteLine      Watched = "nitrite"                      // mg N/L
	OxygenLine       Watched = "oxygen"                       // mg/L
	OxygenSaturation Watched = "oxygen over saturation"       // share
	KHLine           Watched = "kh"                           // dKH
	NitrateLine      Watched = "nitrate"                      // mg N/L
	CopperShare      Watched = "copper over criterion"        // copper over the acute criterion at this hardness
)

// Poison reports whether the lines of w may never be loosened: poisons and oxygen.
func (w Watched) Poison() bool { return w != KHLine && w != NitrateLine }

// Line is the set of lines of one thing. A thing is past a line when it is at it or beyond:
// above, or below when Below. A line that does not exist is unknown.
type Line struct {
	Of                    Watched
	Unit                  string
	Below                 bool // harm lies below the lines
	Watch, Act, Emergency Maybe[float64]
	Why                   []Because
}

// At gives the standing of a value against the lines.
func (l Line) At(value float64) Standing {
	past := func(line Maybe[float64]) bool {
		x, ok := line.Get()
		if l.Below {
			return ok && value <= x
		}
		return ok && value >= x
	}
	switch {
	case past(l.Emergency):
		return Standing{ActNow, true}
	case past(l.Act):
		return Standing{Tier: ActNow}
	case past(l.Watch):
		return Standing{Tier: Watch}
	}
	return Standing{}
}

// Lines are the lines that hold for a stock.
type Lines struct {
	Class Class
	Why   Because
	All   []Line
}

// Of gives the line of one thing; there is none for oxygen when nothing in the stock breathes
// water.
func (l Lines) Of(w Watched) (Line, bool) {
	for _, line := range l.All {
		if line.Of == w {
			return line, true
		}
	}
	return Line{}, false
}

// At gives the standing of a value of one thing; a thing without a line carries on.
func (l Lines) At(w Watched, value float64) Standing {
	line, _ := l.Of(w)
	return line.At(value)
}

// Ammonia gives the worse standing of free ammonia (mg NH3-N/L) and of total ammonia over the
// chronic criterion, both at the present pH and temperature. A criterion of zero or less counts
// as unknown and is passed over.
func (l Lines) Ammonia(free quantity.FreeAmmonia, total, criterion quantity.TotalAmmonia) Standing {
	worst := l.At(FreeAmmonia, float64(free))
	if criterion > 0 {
		if s := l.At(AmmoniaShare, float64(total/criterion)); s.Worse(worst) {
			worst = s
		}
	}
	return worst
}

// LinesOf gives the lines for a stock and the chloride of its water, as far as that is known.
//
// The lines are one table (lines.txt). The stock moves only these. Nitrate goes by its [Class];
// its watch line comes down to the lowest ceiling of a species that holds the water. Where every
// animal that holds the water needs it soft and acid, nitrate and KH follow the stock's own
// range: KH then has at most a watch line, since what counts is the odds of a fall in pH. The act
// line of nitrite rises with chloride over 40 mg/L when no amphibian is in.
func LinesOf(stock []Kept, chloride Maybe[quantity.MgPerL]) Lines {
	class, why := ClassOf(stock)
	out := Lines{Class: class, Why: why}
	upward := func(w Watched, unit, name string) Line {
		return Line{
			Of: w, Unit: unit, Watch: lineAt(name + "-watch"), Act: lineAt(name + "-act"),
			Emergency: lineAt(name + "-emergency"), Why: []Because{{Code: WhyTable}},
		}
	}
	out.All = append(out.All,
		upward(FreeAmmonia, "mg N/L", "free-ammonia"),
		upward(AmmoniaShare, "1", "ammonia-criterion"),
		nitriteLine(stock, chloride))
	if breathing(stock) {
		oxygen := upward(OxygenLine, "mg/L", "oxygen")
		saturation := upward(OxygenSaturation, "1", "oxygen-saturation")
		oxygen.Below, saturation.Below = true, true
		out.All = append(out.All, oxygen, saturation)
	}
	out.All = append(out.All, khLine(stock), nitrateLine(stock, class, why), upward(CopperShare, "1", "copper"))
	return out
}

func nitriteLine(stock []Kept, chloride Maybe[quantity.MgPerL]) Line {
	l := Line{
		Of: NitriteLine, Unit: "mg N/L", Watch: lineAt("nitrite-watch"), Act: lineAt("nitrite-act"),
		Emergency: lineAt("nitrite-emergency"),
	}
	cl, known := chloride.Get()
	switch who := amphibian(stock); {
	case who != "":
		l.Why = []Because{{WhyAmphibian, who}}
	case len(stock) == 0:
		l.Why = []Because{{Code: WhyNobodyKnown}}
	case known && float64(cl) > lines.Value("nitrite-chloride"):
		l.Act, l.Why = lineAt("nitrite-act-with-chloride"), []Because{{Code: WhyChloride}}
	default:
		l.Why = []Because{{Code: WhyNoChloride}}
	}
	return l
}

// softStock gives the part of the stock that needs soft, acid water, and whether that is every
// animal that holds the water to a range.
func softStock(stock []Kept) (soft []Kept, all bool) {
	all = true
	for _, k := range stock {
		switch {
		case needsSoftWater(k):
			soft = append(soft, k)
		case k.Species.Group.Animal() && k.HoldsWater():
			all = false
		}
	}
	return soft, all && len(soft) > 0
}

func khLine(stock []Kept) Line {
	l := Line{Of: KHLine, Unit: "dKH", Below: true}
	soft, all := softStock(stock)
	if !all {
		l.Watch, l.Act, l.Emergency = lineAt("kh-watch"), lineAt("kh-act"), lineAt("kh-emergency")
		l.Why = []Because{{Code: WhyTable}}
		return l
	}
	low, who := 0.0, soft[0].Species.Common
	for _, k := range soft {
		if kh, _ := k.Species.KH.Get(); float64(kh.Lo) > low {
			low, who = float64(kh.Lo), k.Species.Common
		}
	}
	if low > 0 {
		l.Watch = Known(low)
	}
	l.Why = []Because{{WhySoftWater, who}}
	return l
}

func nitrateLine(stock []Kept, class Class, why Because) Line {
	name := map[Class]string{Sensitive: "-sensitive", Ordinary: "-ordinary", ReptilesOnly: "-reptiles"}[class]
	asN := func(key string) float64 { return float64(quantity.NitrateAsNO3(lines.Value(key + name))) }
	watch, act := asN("nitrate-watch"), asN("nitrate-act")
	l := Line{Of: NitrateLine, Unit: "mg N/L", Why: []Because{why}}
	soft, all := softStock(stock)
	if top, who, ok := lowestCeiling(soft); ok && (all || top < act) {
		watch, act = top*watch/act, top
		l.Why = append(l.Why, Because{WhySoftWater, who})
	}
	if top, who, ok := lowestCeiling(stock); ok && top < watch {
		watch = top
		l.Why = append(l.Why, Because{WhyOwnCeiling, who})
	}
	l.Watch, l.Act = Known(watch), Known(act)
	return l
}

// lowestCeiling is the lowest nitrate ceiling (mg N/L) of those that hold the water, and whose.
func lowestCeiling(stock []Kept) (top float64, who string, ok bool) {
	for _, k := range stock {
		if c, known := k.Species.Nitrate.Get(); known && k.HoldsWater() && (!ok || float64(c) < top) {
			top, who, ok = float64(c), k.Species.Common, true
		}
	}
	return top, who, ok
}

// lineAt reads a line of the table; a name that is not in it has no line.
func lineAt(name string) Maybe[float64] {
	for _, c := range lines.List {
		if c.Name == name {
			return Known(c.Value)
		}
	}
	return Maybe[float64]{}
}

// breathing reports whether an animal of the stock breathes water. A stock in which no animal is
// written down is taken to breathe.
func breathing(stock []Kept) bool {
	animals := 0
	for _, k := range stock {
		if k.BreathesWater() {
			return true
		}
		if k.Species.Group.Animal() {
			animals++
		}
	}
	return animals == 0
}

// amphibian gives the name of the first amphibian of the stock.
func amphibian(stock []Kept) string {
	for _, k := range stock {
		if k.Species.Group.Amphibian() {
			return k.Species.Common
		}
	}
	return ""
}
