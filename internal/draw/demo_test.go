package draw_test

import (
	"math"

	"halfwater/internal/draw"
	"halfwater/internal/look"
)

// The drawings of an invented enclosure, Riverbank: mossy frogs over ricefish and shrimp. The
// numbers are placeholders for the look; only the limits are those of the program.

func riverbank() draw.Section {
	return draw.Section{
		Name: "Riverbank", Length: 100, Height: 66, Depth: 60,
		Profile: []draw.Point{{0, 4}, {17, 4.5}, {33, 6}, {46, 10}, {55, 16}, {61.5, 22}, {67, 26}, {77, 31}, {90, 34}, {100, 35}},
		Water:   23.6, Full: 24, Siphon: 20.8, Intake: 14,
		Take: "10 L", TakeCould: "9.4 to 10.6", Held: "about 53 L", HeldCould: "50 to 56",
		Fittings: []draw.Fitting{
			{Kind: draw.Filter, X0: 2, Z0: 5, X1: 12, Z1: 30, Stages: 3},
			{Kind: draw.Lamp, X0: 72, Z0: 60.5, X1: 88, Z1: 65, Label: "lamp"},
			{Kind: draw.Mister, X0: 32.4, Z0: 63, X1: 35.6, Z1: 66, Label: "mister"},
		},
		Branches: []draw.Branch{{Thick: 2.7, Line: []draw.Point{{99.6, 43.5}, {90, 47.2}, {78, 49.2}, {66, 49.2}, {56, 47.4}, {46, 44}}}},
		Plants:   []draw.Plant{{41.5, 4.4}, {42.6, 5}, {43.6, 5.4}, {49, 4}, {49.8, 4.6}, {92.5, 9}, {73, 5}},
		Stones:   []draw.Stretch{{14, 56}},
		Moss:     []draw.Stretch{{65, 96}},
		Beasts: []draw.Beast{
			{Animal: draw.Frog, Length: 7, Count: 1, Haunt: draw.OnBranch},
			{Animal: draw.Frog, Length: 7, Count: 1, Haunt: draw.OnLand},
			{Animal: draw.Fish, Length: 3.2, Count: 12, Haunt: draw.InWater},
			{Animal: draw.Shrimp, Length: 2.6, Count: 2, Haunt: draw.OnBed},
		},
		Readings: []draw.Reading{
			{X: 82, Z: 52.6, Value: "26 °C", Could: "25 to 27"},
			{X: 60, Z: 57, Value: "UVI 1.1"},
			{X: 9, Z: 54, Value: "21.5 °C, RH 84 %", Short: "21.5 °C", Could: "air, cool end"},
			{X: 79, Z: 37.6, Value: "22 °C", Could: "over the land"},
			{X: 30, Z: 17.2, Value: "KH about 2.1", Short: "KH 2.1", Could: "could be 1.6 to 2.6", Mark: look.Watch, InWater: true},
			{X: 15.5, Z: 10.6, Value: "20.8 °C", Could: "20.5 to 21.1", InWater: true},
			{X: 10, Z: 33, Value: "pump 78 % of clean flow", Short: "pump 78 %"},
		},
	}
}

// resting is the same box on a day without a service.
func resting() draw.Section {
	s := riverbank()
	s.Siphon, s.Take, s.TakeCould = 0, "", ""
	return s
}

// island has two basins, shallow water, and every kind of animal.
func island() draw.Section {
	return draw.Section{
		Name: "Two Pools", Length: 150, Height: 60, Depth: 50,
		Profile: []draw.Point{{0, 6}, {30, 8}, {44, 22}, {62, 26}, {76, 20}, {90, 5}, {125, 5}, {140, 24}, {150, 26}},
		Water:   18, Full: 19, Siphon: 16.8, Intake: 9, Take: "8 L", TakeCould: "7 to 9",
		Fittings: []draw.Fitting{
			{Kind: draw.Heater, X0: 94, Z0: 6, X1: 96.5, Z1: 17},
			{Kind: draw.Filter, X0: 112, Z0: 5.5, X1: 124, Z1: 26, Stages: 2},
			{Kind: draw.Lamp, X0: 44, Z0: 54, X1: 64, Z1: 59, Label: "basking lamp"},
		},
		Stones: []draw.Stretch{{2, 36}},
		Beasts: []draw.Beast{
			{Animal: draw.Turtle, Length: 14, Count: 1, Haunt: draw.OnLand},
			{Animal: draw.Lizard, Length: 12, Count: 1, Haunt: draw.OnLand},
			{Animal: draw.Newt, Length: 11, Count: 2, Haunt: draw.OnBed},
			{Animal: draw.Crab, Length: 7, Count: 2, Haunt: draw.OnBed},
			{Animal: draw.Fish, Length: 5, Count: 2, Haunt: draw.InWater},
		},
		Readings: []draw.Reading{
			{X: 54, Z: 33, Value: "34 °C", Could: "32 to 36"},
			{X: 20, Z: 12, Value: "free ammonia 0.04", Could: "could be 0.02 to 0.09", Mark: look.ActNow, InWater: true},
			{X: 104, Z: 11, Value: "24.1 °C", Could: "23.8 to 24.4", InWater: true},
			{X: 12, Z: 48, Value: "27 °C, RH 60 %", Short: "27 °C", Could: "air, warm end"},
		},
	}
}

// unread is a day on which nobody has read the level.
func unread() draw.Section {
	s := resting()
	s.Water, s.Assumed = s.Full, true
	return s
}

// unmeasured is a first use: only footprint, height and depth are known.
func unmeasured() draw.Section {
	return draw.Section{
		Name: "A new enclosure", Length: 100, Height: 66, Depth: 60, LandShare: .4, Water: 24,
		Held: "about 53 L", HeldCould: "42 to 64", Missing: []string{"lamp", "filter", "land"},
	}
}

// tall is a high and narrow box.
func tall() draw.Section {
	s := riverbank()
	s.Name = "Cliff"
	s.Length, s.Height = 45, 90
	s.Profile = []draw.Point{{0, 4}, {20, 6}, {30, 22}, {45, 30}}
	s.Branches = []draw.Branch{{Thick: 2, Line: []draw.Point{{44, 40}, {30, 56}, {12, 62}}}}
	s.Plants = []draw.Plant{{38, 12}}
	s.Stones, s.Moss = []draw.Stretch{{12, 24}}, []draw.Stretch{{30, 44}}
	s.Fittings = []draw.Fitting{{Kind: draw.Lamp, X0: 26, Z0: 84, X1: 40, Z1: 89, Label: "lamp"}}
	s.Readings = []draw.Reading{
		{X: 33, Z: 76, Value: "28 °C", Could: "27 to 29"},
		{X: 10, Z: 14, Value: "KH about 2.1", Short: "KH 2.1", Could: "could be 1.6 to 2.6", Mark: look.Watch, InWater: true},
		{X: 6, Z: 70, Value: "RH 84 %", Could: "79 to 89"},
	}
	return s
}

func kh() draw.Band {
	return draw.Band{
		Title: "KH: about 2.1 °dKH, could be 1.6 to 2.6. watch.", Lo: 0, Hi: 8,
		Limits: []draw.Limit{{3, look.Watch, false}, {1, look.ActNow, false}},
		Belief: &draw.Belief{1.6, 1.84, 2.36, 2.6}, Shown: &draw.Span{2, 3}, Say: "drops, 19 Nov: 2 to 3",
	}
}

func nitrate() draw.Band {
	return draw.Band{
		Title: "Nitrate: about 22 mg/L as NO3, could be 15 to 30. carry on.", Lo: 0, Hi: 100,
		Limits: []draw.Limit{{25, look.Watch, true}, {50, look.ActNow, true}},
		Belief: &draw.Belief{15, 18.3, 25.7, 30}, Shown: &draw.Span{10, 25}, Say: "glass, 15 Nov: 10 to 25",
	}
}

func warm() draw.Band {
	return draw.Band{
		Title: "Water temperature: 26.8 °C, 26.2 to 27.4. act now.", Lo: 10, Hi: 30,
		Limits: []draw.Limit{{14, look.ActNow, false}, {18, look.Watch, false}, {24, look.Watch, true}, {27, look.ActNow, true}},
		Belief: &draw.Belief{26.2, 26.5, 27.1, 27.4}, Shown: &draw.Span{26.6, 27}, Say: "probe, now: 26.8",
	}
}

func freeAmmonia() draw.Band {
	return draw.Band{
		Title: "Free ammonia: under 0.004 mg/L as N. carry on.", Lo: 0, Hi: .06,
		Limits: []draw.Limit{{.01, look.Watch, true}, {.03, look.ActNow, true}},
		Belief: &draw.Belief{0, .0005, .0025, .004},
	}
}

// unlined has no lines: the ends of its scale are named.
func unlined() draw.Band {
	return draw.Band{Title: "KH in hand: about 11 weeks, could be 6 to 29. worked out.", Lo: 0, Hi: 24, Belief: &draw.Belief{6, 8.4, 17, 29}}
}

func unknownBand() draw.Band {
	return draw.Band{Title: "GH: not yet known", Lo: 0, Hi: 16, Limits: []draw.Limit{{4, look.Watch, false}, {3, look.ActNow, false}, {10, look.Watch, true}, {14, look.ActNow, true}}}
}

func staff() draw.Staff { return draw.Staff{Now: 23.6, To: 20.8, Intake: 14} }

func buckets() draw.Vessels {
	return draw.Vessels{
		{Name: "Bucket 1", Brim: 5.6, Parts: []draw.Part{{"tap", 2, true}, {"RO", 3, false}}},
		{Name: "Bucket 2", Brim: 5.6, Parts: []draw.Part{{"tap", 2.5, true}, {"RO", 2.5, false}}},
		{Name: "Can", Brim: 2, Parts: []draw.Part{{"RO", 1.5, false}}},
	}
}

func mixed() draw.Vessels {
	return draw.Vessels{{Name: "Tub", Brim: 12, Parts: []draw.Part{{"tap", 3.5, true}, {"rain from the butt", 4, false}, {"RO", 2.3, false}}}}
}

func beforeAfter() draw.BeforeAfter {
	return draw.BeforeAfter{Before: draw.Span{1.6, 2.6}, After: draw.Span{2, 2.8}, Lo: .5, Hi: 4, Limits: []draw.Limit{{3, look.Watch, false}, {1, look.ActNow, false}}}
}

// fan is an outlook that runs down; the numbers are made of a line and a root, for the look alone.
func fan() draw.Fan {
	f := draw.Fan{
		Title: "KH, the old pour. 1 in 2 that it falls below 1 by 14 February.", Lo: 0, Hi: 5, From: -28, To: 84,
		Limits: []draw.Limit{{3, look.Watch, false}, {1, look.ActNow, false}},
		Past:   []draw.Past{{-24, draw.Span{2.9, 3.9}}, {-17, draw.Span{2, 3}}, {-10, draw.Span{2, 3}}, {-3, draw.Span{2, 3}}},
		Dates:  []draw.Date{{-28, "25 Oct"}, {42, "3 Jan"}, {84, "14 Feb"}}, End: "about 1.0",
	}
	for day := 0.; day <= 84; day += 7 {
		m, s := 1+1.4*math.Exp(-day/30), .25+.04*math.Sqrt(day)
		f.Ahead = append(f.Ahead, draw.Ahead{day, m - 1.28*s, m - .67*s, m, m + .67*s, m + 1.28*s})
	}
	return f
}

// floored is an outlook under what the card can tell: a long label at the end, the near scale.
func floored() draw.Fan {
	f := draw.Fan{
		Title: "Nitrite: under 0.04 mg/L as N before the change of 10 February.", Lo: 0, Hi: .25, From: -28, To: 80,
		Limits: []draw.Limit{{.06, look.Watch, true}, {.2, look.ActNow, true}},
		Dates:  []draw.Date{{-28, "25 Oct"}, {40, "1 Jan"}, {80, "10 Feb"}}, End: "under 0.04",
	}
	for day := 0.; day <= 80; day += 10 {
		f.Ahead = append(f.Ahead, draw.Ahead{day, .004, .008, .013, .025, .042})
	}
	return f
}

// broken are structs that nobody should send and that somebody will.
func broken() map[string]draw.Drawing {
	nan, inf := math.NaN(), math.Inf(1)
	noNumber := riverbank()
	noNumber.Water, noNumber.Full, noNumber.Siphon, noNumber.Intake = nan, inf, nan, -inf
	noNumber.Profile = []draw.Point{{nan, 3}, {4, nan}, {inf, 2}}
	noNumber.Readings = append(noNumber.Readings, draw.Reading{X: nan, Z: 3, Value: "x"}, draw.Reading{X: -5, Z: 900, Value: "outside"})
	noNumber.Beasts = []draw.Beast{{Animal: 99, Length: 4, Count: 2}, {Length: nan, Count: 1}, {Length: inf, Count: 3}}
	noNumber.Branches = []draw.Branch{{Thick: nan, Line: []draw.Point{{1, 2}, {nan, 3}}}}
	noNumber.Fittings = []draw.Fitting{{X0: nan}, {X0: 5, X1: 2, Z0: 3, Z1: 9}, {Kind: draw.Filter, X0: 3, X1: 5, Z0: 3, Z1: 9, Stages: -4}}
	overFull := riverbank()
	overFull.Water, overFull.Full = 80, 24
	noSlice := riverbank()
	noSlice.Siphon = noSlice.Water
	thin := riverbank()
	thin.Siphon = 23.55
	tiny := riverbank()
	tiny.Length, tiny.Height = .2, .1
	flat := riverbank()
	flat.Length, flat.Height = 400, 2
	needle := riverbank()
	needle.Length, needle.Height = 2, 400
	dry := riverbank()
	dry.Profile = []draw.Point{{0, 50}, {100, 50}}
	words := riverbank()
	words.Name = "<script>alert(1)</script> & \"Bank\" \x00\x1b\xff"
	words.Take = "</text><b>10 L</b>"
	words.Readings[4].Value = "KH <&> 'about' " + string(make([]rune, 40)) + "a very long word on a reading that nobody can place anywhere at all"
	return map[string]draw.Drawing{
		"no facts": draw.Section{}, "no number": noNumber, "over full": overFull, "no slice": noSlice, "thin slice": thin,
		"tiny": tiny, "flat": flat, "needle": needle, "dry": dry, "wild words": words,
		"staff without facts": draw.Staff{}, "staff no number": draw.Staff{nan, inf, nan}, "staff one level": draw.Staff{Now: 20, To: 20, Intake: 20},
		"staff far apart": draw.Staff{400, .4, 3}, "staff close": draw.Staff{24, 23.8, 23.7}, "staff fill": draw.Staff{20.8, 23.6, 14},
		"band without facts": draw.Band{}, "band no number": draw.Band{Title: "x", Lo: nan, Hi: inf, Belief: &draw.Belief{nan, 1, 2, 3}, Shown: &draw.Span{nan, 2}, Limits: []draw.Limit{{nan, look.Watch, true}}},
		"band turned":  draw.Band{Title: "x", Lo: 5, Hi: 1, Belief: &draw.Belief{4, 3, 2, 1}, Say: "y", Shown: &draw.Span{9, 2}},
		"band outside": draw.Band{Title: "x", Lo: 0, Hi: 1, Belief: &draw.Belief{100, 200, 300, 4e9}, Limits: []draw.Limit{{-3, look.ActNow, false}, {.5, look.Watch, true}}},
		"band long words": draw.Band{
			Title: "x", Hi: 1, Say: "a kit with a very long name, bought in a shop far away, on a day: 2 to 3", Shown: &draw.Span{0, 1},
			Limits: []draw.Limit{{.0123456, look.ActNow, false}, {.02345, look.Watch, false}, {.03456, look.Watch, true}, {.045678, look.ActNow, true}},
		},
		"no vessels": draw.Vessels{}, "vessel no number": draw.Vessels{{Brim: nan}, {Brim: inf, Parts: []draw.Part{{"a", nan, true}, {"", -3, false}}}, {Brim: 1, Parts: []draw.Part{{"too much", 1e9, false}}}},
		"fan without facts": draw.Fan{}, "fan no number": draw.Fan{Title: "x", Lo: nan, Hi: inf, From: inf, To: nan, Past: []draw.Past{{nan, draw.Span{1, 2}}}, Ahead: []draw.Ahead{{0, nan, 1, 2, 3, 4}, {1, 5, 4, 3, 2, 1}}, Dates: []draw.Date{{nan, "x"}}, End: "about nothing"},
		"fan wild":             draw.Fan{Title: "x", Hi: 1, Ahead: []draw.Ahead{{0, -1e300, 0, 1, 2, 1e300}}, From: -1e-9, To: 1e-9, Dates: []draw.Date{{0, "today too"}, {0, "again"}}, End: "about a very long number indeed"},
		"before after nothing": draw.BeforeAfter{}, "before after no number": draw.BeforeAfter{Before: draw.Span{nan, 1}, After: draw.Span{3, inf}, Lo: nan, Hi: 2},
	}
}

// stories are the drawings that a person looks at, and that the golden files hold.
func stories() []story {
	return []story{
		{"section", "The section, with a service today", riverbank()},
		{"section-rest", "The section, nothing to take", resting()},
		{"section-island", "Two pools, a heater, act now", island()},
		{"section-of", "From facts and a sheet", draw.SectionOf(visit())},
		{"section-unread", "Nobody read the level", unread()},
		{"section-tall", "A tall box", tall()},
		{"section-empty", "Nobody has measured", unmeasured()},
		{"staff", "The staff: siphon down", staff()},
		{"staff-fill", "The staff: fill up", draw.Staff{20.8, 24, 14}},
		{"staff-close", "The staff: near the intake", draw.Staff{17, 15.5, 14}},
		{"vessels", "Vessels", buckets()},
		{"vessels-three", "Three waters", mixed()},
		{"band-kh", "KH", kh()},
		{"band-nitrate", "Nitrate", nitrate()},
		{"band-warm", "Four lines, act now", warm()},
		{"band-ammonia", "At the end of the scale", freeAmmonia()},
		{"band-unlined", "Without lines", unlined()},
		{"band-unknown", "Nothing believed yet", unknownBand()},
		{"fan", "What comes", fan()},
		{"fan-floor", "What comes, under the kit's floor", floored()},
		{"before-after", "Before and after", beforeAfter()},
	}
}

type story struct {
	name, about string
	drawing     draw.Drawing
}
