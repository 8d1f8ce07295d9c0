package emergency

import (
	"math"
	"time"

	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

// Oxygen is how long the water can be breathed without pump and air.
type Oxygen struct {
	Code string // OxygenHours, OxygenNobody
	// CountOn is what the sheet acts on: the 5 % quantile, rounded down.
	CountOn Hours
	// Lasts is the time until the emergency line of oxygen, Uneasy until its act line. [Longest] stands
	// for that and more.
	Lasts, Uneasy  quantity.Band[Hours]
	Line, ActLine  quantity.MgPerL
	Start          quantity.Band[quantity.MgPerL]
	Demand         quantity.Band[quantity.MgOxygenPerHour] // all of it
	Animals        quantity.Band[quantity.MgOxygenPerHour]
	Microbes       quantity.Band[quantity.MgOxygenPerHour]
	Plants         quantity.Band[quantity.MgOxygenPerHour] // in the dark
	By             time.Time                               // the clock at CountOn; zero when nobody says when the power went
	FilterHolds    quantity.Litres                         // of a closed filter; 0 when not known or none
	FilterMgOxygen float64                                 // what those litres hold, mg
}

// Codes of the oxygen.
const (
	OxygenHours  = "emergency.oxygen-hours"
	OxygenNobody = "emergency.oxygen-nobody" // nobody on the list breathes water
)

// until is the hours in which the oxygen falls from start to a line, pump off:
// V dC/dt = kL A (saturation - C) - R. False when it never falls so far. litres V, demand R in mg/h,
// exchange kL A in L/h.
func until(start, line, saturation, litres, demand, exchange float64) (float64, bool) {
	switch {
	case start <= line:
		return 0, true
	case !(demand > 0) || !(litres > 0):
		return 0, false
	case !(exchange > 0):
		return (start - line) * litres / demand, true
	}
	rest := saturation - demand/exchange
	if rest >= line {
		return 0, false
	}
	return litres / exchange * math.Log((start-rest)/(line-rest)), true
}

// filmExchange is kL A in L/h of a surface with a film: 1 cm/h over 1 m2 is 10 L/h.
func filmExchange(square float64, t quantity.Celsius) float64 {
	return 10 * water.Film.KL(t) * square
}

// breathers is what of the stock breathes water, summed.
type breathers struct {
	known   float64 // median mg/h at 25 C, kind or weight known
	guessed spread  // mg/h at 25 C, neither known; per litre when perLitre
	per     bool
	plants  spread // g dry
	nobody  bool
	missing []Missing
}

const demandAt quantity.Celsius = 25 // the temperature at which the stock is summed; then scaled

func (n Now) breathers() breathers {
	var b breathers
	animals := 0
	dry := spanOf("plant-dry")
	for _, s := range n.Facts.Stock {
		if s.Count <= 0 {
			continue
		}
		k, known := kindOf(s)
		mass := s.Mass
		if !(mass > 0 && mass < 1e6) {
			mass = 0
		}
		if known && !k.Species.Group.Animal() {
			if k.Use() != husbandry.Landed && mass > 0 {
				wet := float64(mass) * float64(s.Count)
				b.plants = spread{b.plants.lo + wet*dry.lo, b.plants.mid + wet*dry.mid, b.plants.hi + wet*dry.hi}
			}
			continue
		}
		animals++
		if known && !k.BreathesWater() {
			continue
		}
		b.add(s, k, known, mass)
	}
	if animals == 0 {
		b.missing = append(b.missing, Missing{Code: NoStock})
		b.per = true
		each := spanOf("stock-each").mid
		perGram := float64(routine(quantity.Grams(each))) / each
		b.guessed = spanOf("stock-per-litre").times(perGram)
		return b
	}
	b.nobody = b.known == 0 && b.guessed.mid == 0
	return b
}

// add sums one batch. Where its weight is not known the grown weight of its kind stands in, which is
// the most that they are likely to breathe.
func (b *breathers) add(s enclosure.Batch, k husbandry.Kept, known bool, mass quantity.Grams) {
	if !known {
		b.missing = append(b.missing, Missing{Code: NoKind, Who: s.Name})
	}
	if mass == 0 {
		b.missing = append(b.missing, Missing{Code: NoMass, Who: s.Name})
		if adult, ok := k.Species.Mass.Get(); known && ok {
			mass = adult
		}
	}
	count := float64(s.Count)
	if mass > 0 {
		b.known += count * float64(routine(mass))
		return
	}
	each := spanOf("stock-each")
	for to, g := range map[*float64]float64{&b.guessed.lo: each.lo, &b.guessed.mid: each.mid, &b.guessed.hi: each.hi} {
		*to += count * float64(routine(quantity.Grams(g)))
	}
}

// routine is what one animal of a mass takes at routine activity, the middle of its scatter.
func routine(mass quantity.Grams) quantity.MgOxygenPerHour {
	fish := husbandry.Kept{Species: husbandry.Species{Group: husbandry.Fish, Use: husbandry.Breathes}}
	return husbandry.OxygenDemand(fish, mass, 1, demandAt, husbandry.Routine).Median
}

// scatter is how far one stock breathes more or less than the middle of all fish.
func scatter() spread {
	fish := husbandry.Kept{Species: husbandry.Species{Group: husbandry.Fish, Use: husbandry.Breathes}}
	b := husbandry.OxygenDemand(fish, 1, 1, demandAt, husbandry.Routine)
	return spread{float64(b.Low / b.Median), 1, float64(b.High / b.Median)}
}

// oxygen draws the unknowns and runs each draw down to the lines.
func (n Now) oxygen(b box) (Oxygen, []Missing) {
	o := Oxygen{Code: OxygenHours}
	o.Line, o.ActLine = oxygenLines()
	of := n.breathers()
	if basin := n.Facts.Basin; basin != nil && basin.FilterLitres > 0 && basin.FilterLitres < 1e5 {
		o.FilterHolds = basin.FilterLitres
	}
	if of.nobody {
		o.Code = OxygenNobody
	}
	var (
		z         = scores(n.Seed, 9)
		animals   = scatter()
		microbes  = spreadOf(husbandry.MicrobeOxygen(1)) // per litre
		plants    = spreadOf(husbandry.PlantOxygen(1))   // per gram
		film      = spanOf("film-spread")
		start     = n.start()
		lasts     = make([]float64, draws)
		uneasy    = make([]float64, draws)
		starts    = make([]float64, draws)
		all       = make([]float64, draws)
		byAnimal  = make([]float64, draws)
		byMicrobe = make([]float64, draws)
		byPlant   = make([]float64, draws)
	)
	run := func(i int, litres, square, t, part, demand, kl float64) {
		saturation := float64(water.OxygenSaturation(quantity.Celsius(t), b.pressure))
		c := part * saturation
		if read, ok := n.Read.Oxygen.Get(); ok {
			c = float64(read)
		}
		exchange := kl * filmExchange(square, quantity.Celsius(t))
		starts[i], all[i] = c, demand
		lasts[i] = hoursUntil(c, float64(o.Line), saturation, litres, demand, exchange)
		uneasy[i] = hoursUntil(c, float64(o.ActLine), saturation, litres, demand, exchange)
	}
	for i := range draws {
		litres, t := b.held.at(z[0][i]), b.warmest(z[1][i], z[2][i])
		warm := float64(husbandry.RestingOxygen(1, quantity.Celsius(t)) / husbandry.RestingOxygen(1, demandAt))
		guessed := of.guessed.at(z[4][i])
		if of.per {
			guessed *= litres
		}
		byAnimal[i] = warm * animals.at(z[3][i]) * (of.known + guessed)
		byMicrobe[i] = litres * microbes.at(z[5][i])
		byPlant[i] = of.plants.at(z[6][i]) * plants.at(z[6][i])
		run(i, litres, b.square(litres, z[7][i]), t, start.at(z[8][i]), byAnimal[i]+byMicrobe[i]+byPlant[i], film.at(z[7][i]))
	}
	o.Lasts, o.Uneasy = bandOf[Hours](lasts), bandOf[Hours](uneasy)
	o.Start, o.Demand = bandOf[quantity.MgPerL](starts), bandOf[quantity.MgOxygenPerHour](all)
	o.Animals, o.Microbes, o.Plants = bandOf[quantity.MgOxygenPerHour](byAnimal), bandOf[quantity.MgOxygenPerHour](byMicrobe), bandOf[quantity.MgOxygenPerHour](byPlant)

	// The low end is at most that of the middle of everything else with the demand at its 95 %.
	t := b.warmest(0, 0)
	saturation := float64(water.OxygenSaturation(quantity.Celsius(t), b.pressure))
	exchange := filmExchange(b.square(b.held.mid, 0), quantity.Celsius(t))
	closed := hoursUntil(float64(o.Start.Median), float64(o.Line), saturation, b.held.mid, float64(o.Demand.High), exchange)
	o.Lasts.Low = min(o.Lasts.Low, Hours(closed))
	o.CountOn = down(o.Lasts.Low)
	if from := n.from(n.OxygenAt); !from.IsZero() {
		o.By = from.Add(duration(o.CountOn))
	}
	o.FilterMgOxygen = float64(o.FilterHolds) * float64(o.Start.Median)
	return o, of.missing
}

// hoursUntil is [until] with the far end cut at [Longest].
func hoursUntil(start, line, saturation, litres, demand, exchange float64) float64 {
	h, falls := until(start, line, saturation, litres, demand, exchange)
	if !falls || !(h < float64(Longest)) {
		return float64(Longest)
	}
	return h
}

// warmest is the temperature at which the stock breathes: the water's, or the room's when that will
// warm it.
func (b box) warmest(zWater, zRoom float64) float64 {
	return min(max(b.temp.even(zWater), b.steady.even(zRoom), 0), 40)
}

// square is the open surface, m2.
func (b box) square(litres, z float64) float64 {
	if b.perLitre {
		return litres * b.surface.at(z)
	}
	return b.surface.mid
}

// start is the share of saturation at which the cut begins, by the clock: in the small hours the water
// has been breathed for a whole night.
func (n Now) start() spread {
	if h := n.OffSince.Hour(); !n.OffSince.IsZero() && h >= 9 && h < 21 {
		return spanOf("start-oxygen-day")
	}
	return spanOf("start-oxygen-night")
}

// oxygenLines are the emergency and act lines, of the stock that breathes water.
func oxygenLines() (emergency, act quantity.MgPerL) {
	l, _ := husbandry.LinesOf(nil, Maybe[quantity.MgPerL]{}).Of(husbandry.OxygenLine)
	e, _ := l.Emergency.Get()
	a, _ := l.Act.Get()
	return quantity.MgPerL(e), quantity.MgPerL(a)
}
