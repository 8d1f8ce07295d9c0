package blame

import (
	"fmt"
	"math"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/infer/fit"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// asked is an invented book of ten weeks as a question, with its posterior: weekly changes and top-ups, a nitrate card, KH drops and an EC
// pen read each week before the change. The water is the model's own at its usual constants, read with errors that repeat.
func asked(t testing.TB) (*Question, *fit.Posterior) {
	t.Helper()
	from := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	var lines []book.Line
	add := func(day float64, b book.Body) book.Line {
		at := from.Add(time.Duration(day * 24 * float64(time.Hour)))
		lines = append(lines, book.Line{ID: book.ID(fmt.Sprintf("%03d", len(lines))), At: at, Recorded: at, Water: book.WaterOf(b), By: book.Keeper, Body: b})
		return lines[len(lines)-1]
	}
	card := kit.Kit{Name: "nitrate card", Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO3, Steps: []float64{0, 5, 10, 25, 50, 100}, Lot: "a"}
	drops := kit.Kit{Name: "KH drops", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 1, Lot: "a"}
	pen := kit.Kit{Name: "EC pen", Of: quantity.OfEC, Form: kit.Meter, Unit: "uS/cm", AccuracyShare: 0.03, Digit: 1}
	add(0, enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{
		Kind: water.Mains, GH: water.Stated[quantity.Hardness](11), KH: water.Stated[quantity.Alkalinity](7), EC: water.Stated[quantity.Conductivity](480),
	}})
	add(0, enclosure.SourceWater{Name: "RO", MadeBy: "RO unit", Analysis: water.Analysis{
		Kind: water.RO, GH: water.Stated[quantity.Hardness](0.2), KH: water.Stated[quantity.Alkalinity](0.2), EC: water.Stated[quantity.Conductivity](12),
	}})
	add(0, enclosure.Stage{Name: "sponge", Order: 1, Medium: "sponge", Biological: true})
	add(0, book.Feed{What: "dry", Grams: 0.3, ProteinShare: 0.45, InWater: true, PerDay: true})
	for _, k := range []kit.Kit{card, drops, pen} {
		add(0, k)
	}
	const weeks = 10
	q := &Question{}
	type read struct {
		kit kit.Kit
		at  float64
		of  book.Line
	}
	var reads []read
	for week := range weeks {
		day := 7*float64(week) + 6.5
		add(day-3, book.TopUp{Source: "RO", Litres: 2})
		for _, k := range []kit.Kit{card, drops, pen} {
			reads = append(reads, read{k, day - 0.1, add(day-0.1, book.Reading{Of: k.Of, Kit: k.Name, Unit: k.Unit, Basis: k.Basis})})
		}
		add(day, book.Change{OutLitres: 18, In: []book.Poured{{Source: "tap", Litres: 8}, {Source: "RO", Litres: 10}}})
	}
	course, err := dynamics.Compile(lines, dynamics.Window{From: from, To: from.AddDate(0, 0, 7*weeks), Held: 90})
	if err != nil {
		t.Fatal(err)
	}
	q.Problem = fit.Problem{Course: &course, Pace: dynamics.Quick, Power: 1}
	for u := range q.Priors {
		q.Priors[u] = dynamics.Unknown(u).Prior()
	}
	begun := course.Poured()
	begun.Volume, begun.Temp = 90, 24
	q.Start = func(p *dynamics.Params, _ []float64) dynamics.State { return course.Mature(p, begun, 0.2, 0.5) }
	see := map[quantity.Measurand]func(*dynamics.State) float64{
		quantity.OfNO3: func(s *dynamics.State) float64 { return float64(s.Nitrate()) },
		quantity.OfKH:  func(s *dynamics.State) float64 { return float64(s.KH()) },
		quantity.OfEC:  func(s *dynamics.State) float64 { return float64(s.EC()) },
	}
	lots := map[quantity.Measurand]int{quantity.OfNO3: 0, quantity.OfKH: 1, quantity.OfEC: 2}
	q.Lots = []fit.Lot{{Name: "card", SD: 0.2}, {Name: "drops", SD: 0.15}, {Name: "pen", SD: 0.02}}
	for _, r := range reads {
		m := r.kit.Error(r.of.At)
		q.Readings = append(q.Readings, fit.Reading{
			Day: r.at, See: see[r.kit.Of], Log: m.Log, SD: m.SD, Shift: m.Shift, Odd: m.Odd, Classes: m.Classes,
			Point: r.kit.Form == kit.Meter, Lot: lots[r.kit.Of], Wander: -1,
		})
	}
	var usual dynamics.Params
	for u := range usual {
		usual[u] = q.Priors[u].At(0)
	}
	days := make([]float64, len(reads))
	for i, r := range reads {
		days[i] = r.at
	}
	truth, plain := make([]dynamics.State, len(reads)), course.Deviations()
	course.Run(&usual, &plain, q.Start(&usual, nil), course.Days, days, truth, dynamics.Quick)
	for i := range truth {
		r, k := &q.Readings[i], reads[i].kit
		seen := r.See(&truth[i])
		if r.Log {
			seen = math.Log(seen + r.Shift)
		}
		seen += r.SD * []float64{0.4, -0.9, 1.1, -0.2, 0.7, -1.3, 0.1}[i%7]
		if r.Log {
			seen = max(math.Exp(seen)-r.Shift, 0)
		}
		shown := k.Shows(seen)
		iv, err := k.Read(shown, reads[i].of.At)
		if err != nil {
			t.Fatal(err)
		}
		r.Lo, r.Hi = iv.Lo, iv.Hi
		at := 0
		for lines[at].ID != reads[i].of.ID {
			at++
		}
		body := lines[at].Body.(book.Reading)
		body.Shown, body.Lo, body.Hi = shown, iv.Lo, iv.Hi
		lines[at].Body = body
		q.Witnesses = append(q.Witnesses, Witness{Line: lines[at], Of: k.Of, Reads: k.Of, Kit: k.Name, Lot: k.Name, Middle: (iv.Lo + iv.Hi) / 2})
	}
	q.Lines = lines
	post, err := q.Solve(fit.Effort{Draws: 20}, 1)
	if err != nil {
		t.Fatal(err)
	}
	return q, &post
}
