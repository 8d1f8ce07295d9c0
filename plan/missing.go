package plan

import (
	"halfwater/infer"
)

// missing are the facts that were never given, each with what it would buy (in its sentence). The
// ones that change today's sheet most stand first.
func (v *visit) missing(s *Sheet) []Missing {
	var out []Missing
	add := func(is bool, code string) {
		if is {
			out = append(out, Missing{Code: code})
		}
	}
	f := v.Facts
	add(f.Basin == nil || !(f.Basin.FullMark > 0), "plan.missing-basin")
	add(len(f.Sources) == 0, "plan.missing-source")
	add(len(v.faulty) > 0, "plan.missing-source-analysis")
	add(len(f.Stock) == 0, "plan.missing-stock")
	add(len(v.ranges.Unknown) > 0, "plan.missing-species")
	read := func(value func(*infer.Draw) float64, code string) {
		add(!known(v.median(value)), code)
	}
	read(func(d *infer.Draw) float64 { return float64(d.KH) }, "plan.missing-kh")
	read(func(d *infer.Draw) float64 { return float64(d.GH) }, "plan.missing-gh")
	read(func(d *infer.Draw) float64 { return float64(d.PH) }, "plan.missing-ph")
	read(func(d *infer.Draw) float64 { return float64(d.TAN) }, "plan.missing-tan")
	read(func(d *infer.Draw) float64 { return float64(d.NO3) }, "plan.missing-no3")
	read(func(d *infer.Draw) float64 { return float64(d.NO2) }, "plan.missing-no2")
	read(func(d *infer.Draw) float64 { return float64(d.EC) }, "plan.missing-ec")
	add(f.Routine == nil, "plan.missing-routine")
	unsaid := false
	for _, src := range v.sources {
		unsaid = unsaid || !src.stated
	}
	add(unsaid, "plan.missing-chlorine")
	if s.Pour != nil {
		add(len(f.Vessels) == 0, "plan.missing-vessels")
		add(!s.Pour.Temp.Known, "plan.missing-temperature")
		add(s.Pour.Temp.Known && !s.Pour.Temp.SourcesSet, "plan.missing-source-temperature")
	}
	if v.level.ok {
		add(v.level.tests == 0, "plan.missing-level-test")
		add(!v.level.read, "plan.missing-level")
	}
	timed, stages := false, 0
	for _, st := range f.Stages {
		if !st.Carbon {
			stages++
			timed = timed || st.CleanJug > 0
		}
	}
	add(stages == 0, "plan.missing-stages")
	add(stages > 0 && !timed, "plan.missing-clean-jug")
	return out
}
