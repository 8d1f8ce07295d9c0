package plan

import (
	"math"
	"slices"

	"halfwater/husbandry"
	"halfwater/quantity"
)

// topUpFirst asks for the full mark before anything else when the level was read under the stop line,
// or so low that what is dissolved is thickened by it.
func (v *visit) topUpFirst() []Concern {
	full := v.thinner()
	if full == 1 {
		return nil
	}
	stop, _ := v.level.basin.Stop()
	c := Concern{
		Code: "plan.top-up-first", Tier: husbandry.Watch, Of: quantity.OfLevel, Chance: math.NaN(), Value: float64(v.level.now),
		Line: float64(v.level.basin.FullMark), LookAgain: v.on,
	}
	if v.level.now < stop {
		c.Tier = husbandry.ActNow
	}
	if s, ok := v.topUp(); ok {
		c.Source = s.name
	}
	return []Concern{c}
}

// thinner is by what topping up to the full mark with pure water makes everything dissolved less; 1
// when the level was not read, or is not so low that it matters.
func (v *visit) thinner() float64 {
	l := v.level
	if !l.ok || !l.read || !(v.held.Median > 0) {
		return 1
	}
	short := float64(l.table.Litres(l.basin.FullMark) - l.table.Litres(l.now))
	stop, _ := l.basin.Stop()
	if !(short > shortOf*float64(v.held.Median)) && l.now >= stop {
		return 1
	}
	return float64(v.held.Median) / (float64(v.held.Median) + max(short, 0))
}

// thickened marks what would not be too much at the full mark: it waits for the top-up.
func (v *visit) thickened(list []Concern) {
	f := v.thinner()
	if f == 1 {
		return
	}
	codes := []string{"plan.out-high", "plan.nitrate-watch", "plan.nitrate-act", "plan.ec-creep-top-up"}
	for i := range list {
		c := &list[i]
		if slices.Contains(codes, c.Code) && !c.Emergency && c.Of != quantity.OfWaterTemp && c.Value*f <= c.Line+slackOf[c.Of] {
			c.DependsOn = "plan.top-up-first"
		}
	}
}
