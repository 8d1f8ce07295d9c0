package infer

import (
	"math"
	"math/rand/v2"
	"slices"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/infer/fit"
	"halfwater/quantity"
)

// account is the book of a belief as whole histories.
type account struct {
	question *question
	post     fit.Posterior
	walk     *walk
	window   Window                      // Lines: the standing ones of this water
	alarming map[quantity.Measurand]bool // quantities last read higher than histories bear out
}

// futures is how many are run on from a belief.
const futures = 1000

// believing is the effort spent on a belief.
var believing = fit.Effort{Draws: 200, Scouts: 30, Bends: true}

// histories finds whole histories for a book. Errors: those of dynamics.Compile, fit.ErrNoHistory, fit.ErrStopped.
func (w *walk) histories(lines []book.Line, win Window, watch fit.Watch) (*account, error) {
	before, window := w.stages(lines, win, watch)
	q, err := w.whole(lines, win, before)
	if err != nil {
		return nil, err
	}
	a := &account{question: q, walk: w, window: win}
	a.window.Lines, a.window.Before = lines, nil
	if b := win.Before; b != nil && b.account != nil && b.account.question.Course.From.Equal(q.Course.From) {
		a.post, err = q.SolveFrom(&b.account.post, spent(believing, window.Part(0, 0.5)), win.Seed)
		if err == nil && a.post.Sure && !q.astray(&a.post) {
			return a, nil
		}
		window = window.Part(0.5, 1)
	}
	a.post, err = q.Solve(spent(believing, window), win.Seed)
	return a, err
}

// draws are the ends of the histories as waters, laid over those of the first look, which has what
// histories do not: the temperature, what nobody knows anything of, and what was read alarmingly high.
func (a *account) draws(first []Draw) []Draw {
	r := rand.New(rand.NewPCG(a.window.Seed, hours))
	out := make([]Draw, len(a.post.Draws))
	quiet := still(a.question.Course)
	for i := range a.post.Draws {
		h := &a.post.Draws[i]
		d := a.draw(first[i%len(first)], &h.Params, &h.End, h.Wander, r)
		a.rates(&d, h, quiet)
		out[i] = d
	}
	return out
}

// asFirst reports whether a quantity stands as the first look has it: one that alarms, and with ammonia the pH, by which
// its free part goes.
func (a *account) asFirst(of quantity.Measurand) bool {
	return a.alarming[of] || of == quantity.OfPH && a.alarming[quantity.OfTAN]
}

// hours keeps the swing within a day apart from other draws.
const hours = 0x686f7572

// draw is one state as a water, laid over another one. Beside its own departure from the model a quantity has the hour of
// the day in it.
func (a *account) draw(d Draw, p *dynamics.Params, s *dynamics.State, depart []float64, r *rand.Rand) Draw {
	q := a.question
	of := func(m quantity.Measurand, x float64) float64 {
		k := wanderOf(m)
		return math.Max(q.Wanders[k].Apply(x, depart[k]), 0)
	}
	known := func(slot int, x float64) float64 {
		if !a.walk.known[slot] {
			return math.NaN()
		}
		return x
	}
	hour := func(name string) float64 { return value(name) * r.NormFloat64() }
	tan := quantity.TotalAmmonia(math.Abs(of(quantity.OfTAN, float64(s.AmmoniaAsRead())) + hour("wander.tan_hour")))
	no2 := quantity.Nitrite(math.Abs(of(quantity.OfNO2, float64(s.Nitrite())) + hour("wander.no2_hour")))
	if !a.asFirst(quantity.OfTAN) {
		d.TAN = tan
	}
	if !a.asFirst(quantity.OfNO2) {
		d.NO2 = no2
	}
	d.NO3 = quantity.Nitrate(known(nitrate, of(quantity.OfNO3, float64(s.Nitrate()))))
	d.GH = quantity.Hardness(known(gh, of(quantity.OfGH, float64(s.GH()))))
	d.KH = quantity.Alkalinity(known(kh, of(quantity.OfKH, float64(s.KH()))))
	d.EC = quantity.Conductivity(known(ions, of(quantity.OfEC, conducted(q.conducts*ownStrength(s)))))
	d.Chloride = quantity.MgPerL(known(chloride, float64(s.Chloride())))
	if a.walk.box.known {
		litres := q.Course.Held * p[dynamics.HeldWater]
		d.Held = quantity.HeldLitres(math.Max(litres-a.walk.missing, 0.3*litres))
	}
	switch {
	case !a.walk.known[ph]:
		d.PH, d.PCO2 = quantity.PH(math.NaN()), quantity.Atm(math.NaN())
	case a.asFirst(quantity.OfPH):
		d.PH, d.PCO2 = d.pressed(float64(d.PH)) // with the KH of this history
	default:
		d.PH, d.PCO2 = d.pressed(of(quantity.OfPH, float64(s.PH())) + hour("wander.ph_hour"))
	}
	return d
}

// rates are what the enclosure does in a week without a change, from the end of a history on.
func (a *account) rates(d *Draw, h *fit.History, quiet *dynamics.Course) {
	p := h.Params
	if n := len(h.Dev.Uptake); n > 0 {
		p[dynamics.Uptake] *= math.Exp(h.Dev.Uptake[min(int(h.End.Day/dynamics.Month), n-1)])
	}
	if n := min(int(h.End.Day/dynamics.Week)+1, len(h.Dev.Feed)); n > 0 { // fed as in the last four weeks
		sum := 0.0
		late := h.Dev.Feed[max(n-4, 0):n]
		for _, f := range late {
			sum += f
		}
		p[dynamics.Load] *= math.Exp(sum / float64(len(late)))
	}
	then := quiet.Run(&p, &dynamics.Deviations{}, h.End, h.End.Day+7, nil, nil, a.question.Pace)
	if a.walk.known[nitrate] {
		d.NO3Rise = quantity.Nitrate((then.NO3 - h.End.NO3) / h.End.Volume)
	}
	if a.walk.known[kh] {
		d.KHFall = quantity.Alkalinity(float64(h.End.KH()) - float64(then.KH())*then.Volume/h.End.Volume)
		d.KHInHand = math.Inf(1)
		if d.KHFall > 0 {
			d.KHInHand = float64(d.KH / d.KHFall)
		}
	}
	last := a.question.Course.Pieces[len(a.question.Course.Pieces)-1]
	lost, share := p[dynamics.Evaporation]*last.Evaporation, p[dynamics.Seepage]
	d.Evaporation, d.Leak = quantity.LitresPerDay((1-share)*lost), quantity.LitresPerDay(share*lost)
	if len(a.alarming) == 0 { // else the histories know too little of the filter
		d.Reserve = a.question.Course.Reserve(&p, &h.End)
	}
}

// weigh says of each quantity that was read how much of what is known of it its own readings say.
func (a *account) weigh(b *Belief) {
	own := map[quantity.Measurand][]int{}
	for i, w := range a.question.witnesses {
		if w.of != "" && !a.asFirst(w.of) && a.question.Readings[i].Own == nil {
			own[w.of] = append(own[w.of], i)
		}
	}
	var quantities []quantity.Measurand
	var groups [][]int
	for of := range b.Evidence {
		its := own[of]
		if of == quantity.OfEC {
			its = append(slices.Clone(its), own[quantity.OfTDS]...)
		}
		if len(its) > 0 {
			quantities, groups = append(quantities, of), append(groups, its)
		}
	}
	for i, told := range a.question.Told(&a.post, groups) {
		e := b.Evidence[quantities[i]]
		e.ByReadings = told
		b.Evidence[quantities[i]] = e
	}
}
