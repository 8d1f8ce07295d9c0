package plan

import (
	"halfwater/change"
	"halfwater/husbandry"
	"halfwater/quantity"
)

// larger says why a change is far larger than the routine, or that no share of this water reaches
// what is to be kept. Nil when neither is so, and when the keeper has set the share.
func (v *visit) larger(b blend, x quantity.Share) *Larger {
	if v.Share > 0 {
		return nil
	}
	out := Larger{Routine: v.routine, Share: x}
	for _, p := range v.plateaus(b, v.routine) {
		edge := v.edgeOf(p)
		out.Of, out.Source, out.Line, out.Plateau, out.Now = p.Of, p.Source, edge, p.Before.Median, v.nowOf(p.Of)
		if !known(out.Now) {
			out.Now = 0
		}
		switch {
		case p.Of == quantity.OfNO3 && p.Source >= edge:
			out.Code = "plan.no-share"
			return &out
		case x > v.routine*farLarger && p.NeedShare > v.routine*farLarger:
			out.Code = "plan.larger-plateau"
			return &out
		}
	}
	if x <= v.routine*farLarger {
		return nil
	}
	out.Code, out.Plateau = "plan.larger-correction", 0
	most := quantity.Share(0)
	consider := func(of quantity.Measurand, now, with, edge float64) {
		if s, ok := change.ShareToReach(now, edge, with); ok && s > most {
			most, out.Of, out.Now, out.Source, out.Line = s, of, now, with, edge
		}
	}
	for _, of := range []quantity.Measurand{quantity.OfGH, quantity.OfKH, quantity.OfEC} {
		now := v.nowOf(of)
		if k, ok := v.ranges.Of(of); ok && (k.LoBy.Keeper || k.HiBy.Keeper) && known(now) && beyond(of, now, k.Range) {
			consider(of, now, levelOf(b.mid, of), min(max(now, k.Range.Lo), k.Range.Hi))
		}
	}
	if line, ok := v.lines.Of(husbandry.NitrateLine); ok {
		if act, has := line.Act.Get(); has && float64(v.now.NO3) > act {
			consider(quantity.OfNO3, float64(v.now.NO3), float64(b.no3), act)
		}
	}
	if most == 0 {
		return nil
	}
	return &out
}

// edgeOf is the edge of the range that a plateau drifts towards.
func (v *visit) edgeOf(p Plateau) float64 {
	within := v.rangeOf(p.Of)
	if p.Rise.Median < 0 {
		return within.Lo
	}
	return within.Hi
}

func (v *visit) nowOf(of quantity.Measurand) float64 {
	if of == quantity.OfNO3 {
		return float64(v.now.NO3)
	}
	return levelOf(v.now.Levels, of)
}
