package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"halfwater/emergency"
	"halfwater/husbandry"
	"halfwater/internal/say"
	"halfwater/quantity"
)

type oxygenFacts struct{ CountOn, By, Lo, Hi, Line, Demand string }

func powerPart(p emergency.PowerCut) EmergencyPart {
	part := EmergencyPart{Key: "hours", Name: told("by-the-hour")}
	o := p.Oxygen
	if o.Code == emergency.OxygenNobody {
		part.Lead = say.Sentence(o.Code, o)
	} else {
		f := oxygenFacts{CountOn: lasting(o.CountOn), By: clock(o.By)}
		f.Lo, f.Hi = between(o.Lasts)
		part.Lead = say.Sentence("emergency.words-oxygen-hours", f)
		f.Line, f.Demand = say.Value(quantity.OfOxygen, float64(o.Line)), demand(o.Demand)
		part.Lines = append(part.Lines, say.Sentence("emergency.oxygen-why", f))
	}
	part.Lines = append(part.Lines, curveLine(p.Warmth))
	part.Lines = append(part.Lines, reaches(p.Warmth.Lines)...)
	part.Lines = append(part.Lines, unsure(p.Warmth.Unsure)...)
	for _, a := range p.Air {
		part.Lines = append(part.Lines, say.Sentence(a.Code, a))
	}
	for _, d := range p.Due {
		row := DueRow{When: hour(d), Past: d.Past && d.After > 0, Act: actRow(d.Act)}
		if d.Who != "" {
			row.Who = d.Who + ", " + celsius(d.Line)
		}
		part.Due = append(part.Due, row)
	}
	back := actRows(p.BackOn)
	part.Groups = []ActGroup{{told("back-on"), append([]ActRow{{say.Sentence(p.Filter.Code, p.Filter), "our judgement"}}, back...)}}
	return part
}

// hour is when an act is due: by the clock when it is known when the power went.
func hour(d emergency.Due) string {
	switch {
	case d.After == 0:
		return "at once"
	case !d.At.IsZero():
		return clock(d.At)
	}
	return "after " + lasting(d.After)
}

func clock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("15:04")
}

func demand(b quantity.Band[quantity.MgOxygenPerHour]) string {
	round := func(x quantity.MgOxygenPerHour) float64 {
		if x < 10 {
			return math.Round(float64(x))
		}
		return math.Round(float64(x)/5) * 5
	}
	return fmt.Sprintf("about %.0f mg an hour, could be %.0f to %.0f", round(b.Median), round(b.Lo), round(b.Hi))
}

type curveFacts struct{ End, In4, In12, Rate, Watts string }

func curveLine(c emergency.Curve) string {
	f := curveFacts{End: temperature(c.End)}
	for _, t := range c.Temps {
		switch t.After {
		case 4:
			f.In4 = temperature(t.Water)
		case 12:
			f.In12 = temperature(t.Water)
		}
	}
	return say.Sentence(strings.Replace(c.Code, "emergency.", "emergency.words-", 1), f)
}

// temperature is a band of the water: "about 21 °C, could be 19 to 22".
func temperature(b quantity.Band[quantity.Celsius]) string {
	return say.Band(quantity.OfWaterTemp, asFloats(b), 0)
}

func asFloats[Q quantity.Number](b quantity.Band[Q]) quantity.Band[float64] {
	return quantity.Band[float64]{Low: float64(b.Low), Lo: float64(b.Lo), Median: float64(b.Median), Hi: float64(b.Hi), High: float64(b.High)}
}

func celsius(t quantity.Celsius) string {
	return strings.Replace(say.Number(float64(t), 1), ".0", "", 1) + " °C"
}

type reachFacts struct{ Who, Line, CountOn, Within string }

// mostReaches is how many lines of temperature are told; the soonest matter.
const mostReaches = 5

func reaches(lines []emergency.Reaches) []string {
	var out []string
	for _, l := range lines {
		f := reachFacts{Who: l.Who, Line: celsius(l.Line), CountOn: lasting(l.CountOn)}
		lo, hi := between(l.Within)
		f.Within = lo + " to " + hi
		code := strings.Replace(l.Code, "emergency.", "emergency.words-", 1)
		if l.Already {
			code = strings.Replace(code, "too-", "already-", 1)
		}
		if len(out) < mostReaches {
			out = append(out, say.Sentence(code, f))
		}
	}
	return out
}

// unsure says who may be too cold or too warm already, once for each.
func unsure(lines []emergency.Reaches) []string {
	var out []string
	for _, l := range lines {
		f := reachFacts{Who: l.Who, Line: celsius(l.Line)}
		text := say.Sentence(strings.Replace(l.Code, "emergency.", "emergency.words-unsure-", 1), f)
		if len(out) < mostReaches {
			out = append(out, text)
		}
	}
	return out
}

func heaterPart(h emergency.HeaterFault) EmergencyPart {
	part := EmergencyPart{Key: "heater", Name: "Heater stuck or failed", Lead: told("heater-first")}
	if h.Code != emergency.HeaterListed {
		part.Lines = append(part.Lines, say.Sentence(h.Code, h))
	}
	if h.Code != emergency.HeaterNone {
		f := curveFacts{End: temperature(h.Stuck.End), Rate: rate(h.Stuck.Rate)}
		if h.Watts > 0 {
			f.Watts = say.Number(float64(h.Watts), 0) + " W"
		}
		if h.Stuck.Rate.Median > 0 {
			part.Lines = append(part.Lines, say.Sentence("emergency.words-curve-stuck", f))
			part.Lines = append(part.Lines, reaches(h.Stuck.Lines)...)
		} else { // it is warmer than that already
			part.Lines = append(part.Lines, say.Sentence("emergency.words-curve-warmer", f))
		}
		part.Lines = append(part.Lines, curveLine(h.Failed))
		part.Lines = append(part.Lines, reaches(h.Failed.Lines)...)
	}
	part.Lines = append(part.Lines, say.Sentence("emergency.rewarm", h))
	part.Groups = []ActGroup{
		{"Stuck on", actRows(emergency.StuckOn())}, {"Failed", actRows(emergency.Failed())},
	}
	return part
}

func rate(b quantity.Band[quantity.CelsiusDiff]) string {
	lo, hi := say.Number(float64(b.Lo), 1), say.Number(float64(b.Hi), 1)
	if lo == hi {
		return "about " + lo + " °C"
	}
	return lo + " to " + hi + " °C"
}

type stateFacts struct{ Free, PH, EC, Temp, TAN, Line string }

func stateOf(s emergency.State) stateFacts {
	line := "Ammonia is under its watch line."
	switch {
	case s.Emergency:
		line = "Ammonia is past the emergency line."
	case s.Tier == husbandry.ActNow:
		line = "Ammonia is past its act line."
	case s.Tier == husbandry.Watch:
		line = "Ammonia is past its watch line."
	}
	return stateFacts{
		freeOf(s.Free), say.Value(quantity.OfPH, float64(s.PH)), say.Value(quantity.OfEC, float64(s.EC)), celsius(s.Temp),
		say.Value(quantity.OfTAN, float64(s.TAN)), line,
	}
}

func freeOf(f quantity.FreeAmmonia) string {
	if f < 0.001 {
		return "under 0.001 mg/L as N"
	}
	return say.Number(float64(f), 3) + " mg/L as N"
}

func (s stateFacts) row() string {
	return "free ammonia " + s.Free + ", pH " + s.PH + ", EC " + s.EC + ", " + s.Temp
}

type boundFacts struct{ Share, Source, PH, Times, Free string }

func ammoniaPart(a emergency.Ammonia, n emergency.Nitrite) EmergencyPart {
	part := EmergencyPart{Key: "change", Name: told("big-or-small"), Lead: say.Sentence(a.Code, a)}
	if a.Now != nil {
		part.Now = append(part.Now, say.Sentence("emergency.ammonia-now", stateOf(*a.Now)))
	}
	if a.Left != nil {
		part.Now = append(part.Now, say.Sentence("emergency.ammonia-left", stateOf(*a.Left)))
	}
	if b := a.Bound; b != nil {
		f := boundFacts{Share: say.Percent(b.Share), Source: b.Source, PH: say.Value(quantity.OfPH, float64(b.PH))}
		if b.Times > 0 {
			f.Times = say.Number(b.Times, 0)
		}
		if b.Free != nil {
			f.Free = freeOf(*b.Free)
		}
		part.Now = append(part.Now, say.Sentence("emergency.words-ammonia-bound", f))
	}
	for _, o := range a.Offers {
		part.Offers = append(part.Offers, offerRow(o))
	}
	if a.PathCode == emergency.PathStepped || a.PathCode == emergency.PathNone && a.Now != nil {
		part.Lines = append(part.Lines, say.Sentence(a.PathCode, a))
	}
	for i, s := range a.Path {
		if i < pathShown || i == len(a.Path)-1 {
			part.Path = append(part.Path, pathStep(s))
		}
	}
	part.Lines = append(part.Lines, missingLines(a.Missing)...)
	part.Lines = append(part.Lines, nitriteLine(n))
	part.Groups = []ActGroup{{"", actRows(a.Acts)}}
	return part
}

// pathShown is how many days of a path are told, besides the last: each step is read again, so that
// the far ones will be others.
const pathShown = 3

func offerRow(o emergency.Offer) OfferRow {
	row := OfferRow{
		What:     say.Litres(o.Litres) + " of " + o.Source + ", " + say.Percent(o.Share),
		AtMixing: stateOf(o.AtMixing).row(), Within: stateOf(o.Later).row(),
		Refused: o.Code == emergency.OfferRefused, Fits: o.Code == emergency.OfferOK,
	}
	switch o.Code {
	case emergency.OfferLarge:
		var steps []string
		for _, m := range o.Steps {
			steps = append(steps, m.Label())
		}
		row.Verdict = say.Sentence("emergency.words-offer-large", strings.Join(steps, ", "))
	default:
		row.Verdict = say.Sentence(o.Code, o)
	}
	return row
}

func pathStep(s emergency.PathStep) PathRow {
	var parts []string
	for _, p := range s.Parts {
		parts = append(parts, say.Litres(p.Litres)+" of "+p.Source)
	}
	st := stateOf(s.After)
	return PathRow{
		Day: fmt.Sprintf("Day %d", s.Day), Amount: strings.Join(parts, " and "),
		Then: "total ammonia " + st.TAN + ", free at most " + st.Free,
	}
}

type nitriteFacts struct {
	NO2, Ratio, Wanted, Who string
	Act                     bool
}

func nitriteLine(n emergency.Nitrite) string {
	if n.Code == emergency.NitriteUnknown {
		return say.Sentence(n.Code, n)
	}
	f := nitriteFacts{NO2: say.Value(quantity.OfNO2, float64(n.NO2)), Who: strings.Join(n.Who, ", "), Act: n.Tier == husbandry.ActNow}
	if n.Wanted > 0 {
		f.Wanted = say.Number(n.Wanted, 0)
	}
	if n.Ratio > 0 {
		f.Ratio = say.Number(n.Ratio, 0)
		if n.Ratio < 10 {
			f.Ratio = say.Number(n.Ratio, 1)
		}
	}
	return say.Sentence(strings.Replace(n.Code, "emergency.", "emergency.words-", 1), f)
}

// hoursView words the table of hours.
func hoursView(t emergency.Table) HoursView {
	v := HoursView{Head: told("table-head"), Why: told("table-why"), Nobody: t.Code == emergency.OxygenNobody}
	v.Made = say.Sentence("emergency.file-made", madeFacts{say.Day(t.Made), say.Day(t.Made.Add(emergency.Stale))})
	if v.Nobody {
		v.Why = told("table-nobody")
	}
	for i, r := range t.Rows {
		row := HoursRow{Temp: celsius(r.Temp)}
		for _, s := range r.Starts {
			lo, hi := between(s.Lasts)
			cell := HoursCell{Start: fmt.Sprintf("%02d:00", s.Hour), CountOn: lasting(s.CountOn), Could: lo + " to " + hi}
			if s.CountOn < emergency.Longest {
				cell.Until = clockOf(s.Until)
			}
			row.Cells = append(row.Cells, cell)
			switch s.Hour {
			case emergency.ByNight:
				row.Night = cell
			case emergency.ByDay:
				row.Day = cell
			}
			if i == 0 {
				v.Starts = append(v.Starts, cell.Start)
			}
		}
		if c := r.Cold; c != nil {
			row.Cold = c.Who + ", " + celsius(c.Line) + ": " + lasting(c.CountOn)
			if c.Already {
				row.Cold = c.Who + ", " + celsius(c.Line) + ": too cold already"
			}
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}

type madeFacts struct{ Made, Until string }

// clockOf is a time of day, to the minute below.
func clockOf(d time.Duration) string {
	return fmt.Sprintf("%02d:%02d", int(d.Hours())%24, int(d.Minutes())%60)
}
