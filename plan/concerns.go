package plan

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"halfwater/change"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
	"halfwater/water"
)

// concerns are the declared worries, gravest first. A line is passed when more than 1 in 20 of the
// draws pass it; a keeping range, which is only preferred, when more than 1 in 5 leave it.
func (v *visit) concerns(s *Sheet) []Concern {
	if len(v.draws) == 0 {
		return nil
	}
	out := append(v.topUpFirst(), v.sourceFaults()...)
	out = append(out, v.ammoniaNow()...)
	out = append(out, v.pastLines()...)
	out = append(out, v.outOfRange(out)...)
	out = append(out, v.filterLost()...)
	out = append(out, v.readAgain()...)
	out = append(out, v.khFalls(s)...)
	out = append(out, v.topUpCreep(s)...)
	out = append(out, v.pourConcerns(s)...)
	quiet(out)
	v.thickened(out)
	out = append(out, v.together()...)
	for i := range out {
		out[i].NoPour = s.Pour == nil
		out[i].Raised = raised(s, out[i])
		if out[i].LookAgain.IsZero() {
			out[i].LookAgain = v.on.AddDate(0, 0, 7)
		}
	}
	slices.SortStableFunc(out, func(a, b Concern) int {
		return cmp.Or(-compare(a.Emergency, b.Emergency), cmp.Compare(b.Tier, a.Tier), cmp.Compare(weight(b), weight(a)))
	})
	return out
}

func compare(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// weight orders the concerns of one tier: what has to be done before the rest, then by their chance.
// What has no chance of its own is certain when it is to be acted on, and else comes last.
func weight(c Concern) float64 {
	switch {
	case c.Code == "plan.top-up-first", strings.HasPrefix(c.Code, "plan.read-again"):
		return 3
	case c.Fault != nil:
		return 2
	case known(c.Chance):
		return c.Chance
	case c.Tier == husbandry.ActNow:
		return 1
	}
	return 0
}

// sour is the pH under which nitrification all but stops and ammonia hides as ammonium: it is told whatever brought it about. As where
// the law of package dynamics has half of the rate; judgement.
const sour = 6.5

// quiet marks a pH that is low because KH is: the cause is shown, the effect stays quiet, but not where it is sour. So does a pH that is high
// while KH is low: less KH would be asked for beside more. Where hard
// water would free ammonia, low KH has to wait and says so.
func quiet(list []Concern) {
	wait := slices.ContainsFunc(list, func(c Concern) bool { return c.Code == "plan.low-ph-much-ammonia" })
	cause := ""
	for i := range list {
		c := &list[i]
		low := c.Code == "plan.kh-low-watch" || c.Code == "plan.kh-low-act"
		if c.Of == quantity.OfKH && (low || c.Code == "plan.out-low") {
			if wait && low {
				c.Code = "plan.kh-low-wait"
			}
			cause = c.Code
		}
	}
	for i := range list {
		c := &list[i]
		if cause != "" && (c.Code == "plan.ph-low" && c.Value >= sour || c.Code == "plan.ph-high" || c.Code == "plan.kh-falls") {
			c.DependsOn = cause
		}
	}
}

// raised is the KH that today's mix brings, when it already does what a concern about low KH asks.
func raised(s *Sheet, c Concern) float64 {
	if c.Of != quantity.OfKH || !slices.Contains([]string{"plan.kh-low-watch", "plan.kh-low-act", "plan.out-low", "plan.kh-falls"}, c.Code) {
		return 0
	}
	for _, e := range s.Effects {
		if e.Of == quantity.OfKH && e.After.Median > e.Before.Median+0.05 {
			return e.After.Median
		}
	}
	return 0
}

// standing counts how often a thing stands where, and gives its tier: act now or watch when more
// draws than a hard limit allows are past that line. It is an emergency when at least every second
// draw is: one bad colour on a card does not open the emergency page.
func (v *visit) standing(of func(*infer.Draw) husbandry.Standing) (tier husbandry.Tier, emergency bool, chance float64) {
	var watch, act, worst int
	for i := range v.draws {
		switch st := of(&v.draws[i]); {
		case st.Emergency:
			worst++
			fallthrough
		case st.Tier == husbandry.ActNow:
			act++
			fallthrough
		case st.Tier == husbandry.Watch:
			watch++
		}
	}
	n := float64(len(v.draws))
	switch {
	case float64(act)/n > hardLimit:
		return husbandry.ActNow, float64(worst)/n >= 0.5, float64(act) / n
	case float64(watch)/n > hardLimit:
		return husbandry.Watch, false, float64(watch) / n
	}
	return husbandry.CarryOn, false, float64(watch) / n
}

// lookAgainIn is when to test again after a poison has passed a line: in half a day; where that is in the night, in the evening before
// it, if that is six hours on, or else in the morning.
func (v *visit) lookAgainIn(t husbandry.Tier) time.Time {
	if t == husbandry.ActNow {
		at := v.on.Add(12 * time.Hour)
		if h := at.Hour(); h >= 8 && h < 22 {
			return at
		}
		clock := func(day time.Time, hour int) time.Time {
			return time.Date(day.Year(), day.Month(), day.Day(), hour, 0, 0, 0, day.Location())
		}
		if evening := clock(v.on, 21); evening.Sub(v.on) >= 6*time.Hour {
			return evening
		}
		return clock(v.on.AddDate(0, 0, 1), 8)
	}
	return v.on.AddDate(0, 0, 1)
}

// ammoniaNow holds free ammonia, and total ammonia against the chronic criterion, to their lines,
// and says the graver of the two.
func (v *visit) ammoniaNow() []Concern {
	if !known(v.now.TAN) || !known(v.now.PH) {
		return nil
	}
	temp := func(d *infer.Draw) quantity.Celsius {
		if known(d.Temp) {
			return d.Temp
		}
		return usualTemp
	}
	free := func(d *infer.Draw) float64 { return float64(water.FreeAmmonia(d.TAN, d.PH, temp(d))) }
	ratio := func(d *infer.Draw) float64 { return float64(d.TAN / water.ChronicAmmonia(d.PH, temp(d))) }
	out := v.pastLine(quantity.OfTAN, husbandry.FreeAmmonia, "plan.ammonia", free)
	if by := v.pastLine(quantity.OfTAN, husbandry.AmmoniaShare, "plan.ammonia-criterion", ratio); len(by) > 0 {
		if len(out) == 0 || by[0].Tier > out[0].Tier || by[0].Emergency && !out[0].Emergency {
			return by
		}
	}
	return out
}

// pastLines holds nitrite, nitrate and KH to their lines.
func (v *visit) pastLines() []Concern {
	return slices.Concat(
		v.pastLine(quantity.OfNO2, husbandry.NitriteLine, "plan.nitrite", func(d *infer.Draw) float64 { return float64(d.NO2) }),
		v.pastLine(quantity.OfKH, husbandry.KHLine, "plan.kh-low", func(d *infer.Draw) float64 { return float64(d.KH) }),
		v.pastLine(quantity.OfNO3, husbandry.NitrateLine, "plan.nitrate", func(d *infer.Draw) float64 { return float64(d.NO3) }),
	)
}

// pastLine holds one thing to its lines: nothing, or one concern.
func (v *visit) pastLine(of quantity.Measurand, w husbandry.Watched, code string, value func(*infer.Draw) float64) []Concern {
	now := v.median(value)
	line, ok := v.lines.Of(w)
	if !ok || !known(now) {
		return nil
	}
	tier, emergency, chance := v.standing(func(d *infer.Draw) husbandry.Standing { return line.At(value(d)) })
	if tier == husbandry.CarryOn {
		return nil
	}
	if c, stale := v.stale(of, line, chance, now); stale && !emergency {
		return []Concern{c}
	}
	c := Concern{Code: code + "-watch", Tier: tier, Emergency: emergency, Of: of, Chance: chance, Line: line.Watch.Or(0), Value: now}
	if tier == husbandry.ActNow {
		c.Code, c.Line = code+"-act", line.Act.Or(0)
	}
	if w.Poison() || tier == husbandry.ActNow {
		c.LookAgain = v.lookAgainIn(tier)
	}
	if len(line.Why) > 0 {
		c.Animal = line.Why[len(line.Why)-1].Who
	}
	return []Concern{c}
}

// stale asks for a test in place of an alarm: what stands behind a nitrite or ammonia that may be past
// its line is an old reading grown wide, with the middle far under the line.
func (v *visit) stale(of quantity.Measurand, line husbandry.Line, chance, now float64) (Concern, bool) {
	e, ok := v.Belief.Evidence[of]
	watch, has := line.Watch.Get()
	if of != quantity.OfNO2 && of != quantity.OfTAN || !ok || e.Last.IsZero() || !has ||
		v.on.Sub(e.Last) <= staleFor || chance > justPasses || now > watch*farUnder {
		return Concern{}, false
	}
	return Concern{
		Code: "plan.stale-test", Tier: husbandry.Watch, Of: of, Chance: chance, Line: watch, Value: now, Last: e.Last, LookAgain: v.on,
	}, true
}

// outOfRange holds each measurand to its keeping range. What is already past a line is not said
// twice.
func (v *visit) outOfRange(said []Concern) []Concern {
	var out []Concern
	for _, k := range v.ranges.All {
		if k.When != husbandry.Always || k.Range.Empty() || slices.ContainsFunc(said, func(c Concern) bool { return c.Of == k.Of }) {
			continue
		}
		if _, ok := (infer.Draw{}).Of(k.Of); !ok {
			continue
		}
		value := func(d *infer.Draw) float64 { x, _ := d.Of(k.Of); return x }
		now := v.median(value)
		if !known(now) {
			continue
		}
		low := v.chance(func(d *infer.Draw) bool { return value(d) < k.Range.Lo-slackOf[k.Of] })
		high := v.chance(func(d *infer.Draw) bool { return value(d) > k.Range.Hi+slackOf[k.Of] })
		c := Concern{Code: "plan.out-low", Tier: husbandry.Watch, Of: k.Of, Chance: low, Line: k.Range.Lo, Value: now, Animal: k.LoBy.Animal}
		if high > low {
			c.Code, c.Chance, c.Line, c.Animal = "plan.out-high", high, k.Range.Hi, k.HiBy.Animal
		}
		if c.Chance <= preference {
			continue
		}
		if k.Of == quantity.OfPH { // never chased
			c.Code = map[string]string{"plan.out-low": "plan.ph-low", "plan.out-high": "plan.ph-high"}[c.Code]
		}
		if k.Of == quantity.OfWaterTemp && (now < k.Range.Lo-farOut || now > k.Range.Hi+farOut) {
			c.Tier, c.LookAgain = husbandry.ActNow, v.on.Add(2*time.Hour)
		}
		out = append(out, c)
	}
	return out
}

// khFalls says when the routine as kept lets KH run out: its plateau before a change lies under the
// act line, and the level now is on its way there.
func (v *visit) khFalls(s *Sheet) []Concern {
	line, ok := v.lines.Of(husbandry.KHLine)
	act, has := line.Act.Get()
	if !ok || !has || !known(v.now.KH) || !(float64(v.now.KH) > act) {
		return nil
	}
	src, x, ok := v.asKept(s, quantity.OfKH)
	weeks := v.interval / 7
	if !ok || !known(v.rates.khFall) {
		return nil
	}
	n := 0
	cycles := make([]float64, 0, len(v.draws))
	for i := range v.draws {
		d := &v.draws[i]
		plateau := change.Plateau(src, -float64(d.KHFall)*weeks, x).Before
		if plateau < act && float64(d.KH) > act {
			n++
			cycles = append(cycles, change.CyclesUntil(float64(d.KH), act, plateau, x))
		}
	}
	p := float64(n) / float64(len(v.draws))
	if p <= hardLimit {
		return nil
	}
	slices.Sort(cycles)
	within := time.Duration(quantile(cycles, 0.5) * v.interval * 24 * float64(time.Hour))
	if within > outlook {
		return nil
	}
	c := Concern{Code: "plan.kh-falls", Tier: husbandry.Watch, Of: quantity.OfKH, Chance: p, Line: act, Value: float64(v.now.KH), Within: within}
	if within <= soon && p > 0.5 {
		c.Tier = husbandry.ActNow
	}
	return []Concern{c}
}

// topUpCreep names the top-up when it, and not the change, holds EC up.
func (v *visit) topUpCreep(s *Sheet) []Concern {
	top, ok := v.topUp()
	creep := v.creep(quantity.OfEC)
	src, x, kept := v.asKept(s, quantity.OfEC)
	if !ok || top.pure() || !kept || !known(creep) || !(src > 0) {
		return nil
	}
	plateau := change.Plateau(src, creep, x).Before
	if plateau < src*(1+creepShare) {
		return nil
	}
	return []Concern{{
		Code: "plan.ec-creep-top-up", Tier: husbandry.Watch, Of: quantity.OfEC, Chance: math.NaN(), Line: src, Value: plateau, Source: top.name,
	}}
}

// asKept is what the routine has been pouring and how much: the mean of the last changes of the book
// that name their sources. With none in the book it is the pour of today, when that is the routine's
// own; a correction, an emergency or a blend held back by a day's step tells nothing of the weeks to
// come.
func (v *visit) asKept(s *Sheet, of quantity.Measurand) (level float64, x quantity.Share, ok bool) {
	if poured, l, found := v.lastPours(of); found {
		return poured, quantity.Share(float64(l) / float64(v.now.Held)), known(poured) && v.now.Held > 0
	}
	if s.Pour == nil || s.Pour.Share == 0 || !v.ordinary(s) {
		return 0, 0, false
	}
	for _, p := range s.Pour.Plateau {
		if p.Of == of {
			return p.Source, p.Share, true
		}
	}
	return 0, 0, false
}

// ordinary reports whether the pour of today is what the routine would pour in any week.
func (v *visit) ordinary(s *Sheet) bool {
	return len(s.Pour.Path) == 0 && s.Pour.Larger == nil && !slices.ContainsFunc(v.refused, func(r Refused) bool {
		return r.Code == "plan.nearer-blend" || r.Code == "plan.step-too-large" || r.Code == "plan.ammonia-not-in-one-visit" || r.Code == "plan.unread-step"
	})
}

// pourConcerns are those of the pour itself: chlorine without a neutraliser, the ammonia that
// chloramine leaves, softened water, water that waits for a test.
func (v *visit) pourConcerns(s *Sheet) []Concern {
	var out []Concern
	for _, src := range v.sources {
		if src.softened {
			out = append(out, Concern{Code: "plan.softened", Tier: husbandry.Watch, Chance: math.NaN(), Source: src.name})
		}
	}
	if slices.ContainsFunc(v.refused, func(r Refused) bool { return r.Code == "plan.ammonia-not-in-one-visit" }) {
		out = append(out, Concern{
			Code: "plan.low-ph-much-ammonia", Tier: husbandry.ActNow, Of: quantity.OfTAN, Chance: math.NaN(), Value: float64(v.now.TAN),
			LookAgain: v.on.AddDate(0, 0, 1),
		})
	}
	if s.Pour == nil {
		return out
	}
	if !known(v.now.TAN) && known(v.now.PH) && v.now.PH < lowPH {
		out = append(out, Concern{Code: "plan.test-tan-first", Tier: husbandry.Watch, Of: quantity.OfTAN, Chance: math.NaN(), Value: float64(v.now.PH), LookAgain: v.on})
	}
	n := s.Pour.Neutraliser
	for _, p := range s.Pour.Parts {
		for _, src := range v.sources {
			if src.name != p.Source {
				continue
			}
			if src.chlorine > change.ChlorineAcute && n == nil {
				out = append(out, Concern{
					Code: "plan.chlorine-untreated", Tier: husbandry.ActNow, Of: quantity.OfChlorine, Chance: math.NaN(),
					Line: float64(change.ChlorineAcute), Value: float64(src.chlorine), Source: src.name, LookAgain: v.on,
				})
			}
			if src.bound > 0 {
				out = append(out, v.chloramineLeft(s, src)...)
			}
		}
	}
	return out
}

// chloramineLeft says what a chloramine tap leaves in the enclosure, and asks for a test of the
// neutralised tap before the filter is blamed.
func (v *visit) chloramineLeft(s *Sheet, src source) []Concern {
	n := s.Pour.Neutraliser
	left := quantity.TotalAmmonia(0)
	if n != nil {
		left = n.TANLeft
	} else {
		for _, p := range s.Pour.Parts {
			if p.Source == src.name {
				left = water.ChloramineAmmonia(src.bound) * quantity.TotalAmmonia(p.Litres/quantity.Litres(v.now.Held))
			}
		}
	}
	if left < shownTAN {
		return nil
	}
	return []Concern{{
		Code: "plan.chloramine-ammonia", Tier: husbandry.Watch, Of: quantity.OfTAN, Chance: math.NaN(),
		Value: float64(left), Source: src.name, LookAgain: v.on.AddDate(0, 0, 1),
	}}
}

// together names animals of the stock list that should not meet.
func (v *visit) together() []Concern {
	var out []Concern
	for _, p := range husbandry.JudgeAll(v.ranges.Kept()) {
		if p.Verdict == husbandry.GoesTogether {
			continue
		}
		c := Concern{
			Code: "plan.stock-watched", Tier: husbandry.Watch, Chance: math.NaN(), Animal: p.A.Species.Common, With: p.B.Species.Common,
			LookAgain: v.on.AddDate(0, 0, 7),
		}
		if len(p.Reasons) > 0 {
			c.Because = &p.Reasons[0]
		}
		if p.Verdict == husbandry.GoesNot {
			c.Code = "plan.stock-apart"
		}
		out = append(out, c)
	}
	return out
}
