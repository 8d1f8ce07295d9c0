package husbandry

import (
	"halfwater/quantity"
)

// StepLimits are the greatest steps of the water in one day. Shares are of the value now. There
// is no limit for pH: it swings by itself between night and day; what binds are free ammonia, KH
// and EC.
type StepLimits struct {
	GH, EC, KH  quantity.Share
	LeastKH     quantity.Alkalinity // a step of KH this small is allowed whatever its share
	Temperature quantity.CelsiusDiff
	WhyHardness Because
	WhyTemp     Because
}

// StepKH is the greatest step of KH in one day from the KH now: the larger of the share and the
// least step.
func (s StepLimits) StepKH(now quantity.Alkalinity) quantity.Alkalinity {
	return max(s.LeastKH, now*quantity.Alkalinity(s.KH))
}

// StepGH is the greatest step of GH in one day from the GH now.
func (s StepLimits) StepGH(now quantity.Hardness) quantity.Hardness {
	return now * quantity.Hardness(s.GH)
}

// StepEC is the greatest step of EC in one day from the EC now.
func (s StepLimits) StepEC(now quantity.Conductivity) quantity.Conductivity {
	return now * quantity.Conductivity(s.EC)
}

// StepLimitsOf gives the limits for a stock: GH, EC and KH by 15 % a day, 8 % with crustaceans or
// amphibian larvae; temperature by 2 K, 1 K with newts or amphibian larvae. With no animal
// written down the finer limits hold.
func StepLimitsOf(stock []Kept) StepLimits {
	hardness, temp := "step-hardness", "step-temperature"
	s := StepLimits{
		LeastKH:     quantity.Alkalinity(lines.Value("step-kh-least")),
		WhyHardness: Because{Code: WhyTable}, WhyTemp: Because{Code: WhyTable},
	}
	animals := 0
	for _, k := range stock {
		if k.Species.Group.Animal() {
			animals++
		}
		switch {
		case k.Larva():
			hardness, s.WhyHardness = "step-hardness-fine", Because{WhyLarvae, k.Species.Common}
			temp, s.WhyTemp = "step-temperature-fine", Because{WhyLarvae, k.Species.Common}
		case k.Species.Group.Crustacean():
			hardness, s.WhyHardness = "step-hardness-fine", Because{WhyCrustacean, k.Species.Common}
		case k.Species.Group == Newt:
			temp, s.WhyTemp = "step-temperature-fine", Because{WhyNewt, k.Species.Common}
		}
	}
	if animals == 0 {
		hardness, s.WhyHardness = "step-hardness-fine", Because{Code: WhyNobodyKnown}
		temp, s.WhyTemp = "step-temperature-fine", Because{Code: WhyNobodyKnown}
	}
	share := quantity.Share(lines.Value(hardness))
	s.GH, s.EC, s.KH = share, share, share
	s.Temperature = quantity.CelsiusDiff(lines.Value(temp))
	return s
}
