package water

import (
	"fmt"
	"math"
	"strings"

	"halfwater/quantity"
)

// Aim is a number that a recipe can aim at. All of them add up by litres, which pH and conductivity
// do not: those follow from the result.
type Aim string

// The aims, with the unit in which a [Target] states them.
const (
	AimGH          Aim = "GH"          // dGH
	AimKH          Aim = "KH"          // dKH, titrated
	AimCa          Aim = "Ca"          // mg/L
	AimMg          Aim = "Mg"          // mg/L
	AimNa          Aim = "Na"          // mg/L
	AimK           Aim = "K"           // mg/L
	AimCl          Aim = "Cl"          // mg/L
	AimSO4         Aim = "SO4"         // mg/L
	AimNO3         Aim = "NO3"         // mg N/L
	AimTemperature Aim = "temperature" // C
)

// aims read a composition in the unit of each aim, and give the size that counts as one step of a
// miss where the target states none.
var aims = map[Aim]struct {
	of   func(c *Composition) float64
	step float64
}{
	AimGH:          {func(c *Composition) float64 { return float64(c.GH()) }, 1},
	AimKH:          {func(c *Composition) float64 { return float64(c.KH()) }, 1},
	AimCa:          {func(c *Composition) float64 { return float64(c.Ca) * atomCa }, 7},
	AimMg:          {func(c *Composition) float64 { return float64(c.Mg) * atomMg }, 4},
	AimNa:          {func(c *Composition) float64 { return float64(c.Na) * atomNa }, 10},
	AimK:           {func(c *Composition) float64 { return float64(c.K) * atomK }, 5},
	AimCl:          {func(c *Composition) float64 { return float64(c.Cl) * atomCl }, 15},
	AimSO4:         {func(c *Composition) float64 { return float64(c.SO4) * molarSO4 }, 20},
	AimNO3:         {func(c *Composition) float64 { return float64(c.NO3) * atomN }, 2},
	AimTemperature: {func(c *Composition) float64 { return float64(c.Temperature) }, 1},
}

// Target is a range that a blend should fall in, in the unit of its aim. A point has Lo = Hi; a
// limit has Lo = 0 or Hi infinite.
type Target struct {
	Aim    Aim
	Lo, Hi float64
	Step   float64 // the miss that weighs as much as another target's step; 0: the usual one
}

// Point is a target at one value.
func Point(a Aim, x float64) Target { return Target{Aim: a, Lo: x, Hi: x} }

// AtMost is a limit from above.
func AtMost(a Aim, x float64) Target { return Target{Aim: a, Lo: math.Inf(-1), Hi: x} }

// Source is a water that a recipe may use.
type Source struct {
	Name        string
	Composition Composition
	DIC         Molality
	Most        quantity.Litres // 0: as much as wanted
}

// Stock is a salt that a recipe may use.
type Stock struct {
	Salt   Salt
	Most   quantity.Grams // 0: as much as wanted, up to solubility
	Purity quantity.Share // 0: pure
}

// Recipe is the answer to the reverse problem.
type Recipe struct {
	Litres    []quantity.Litres // of each source, in their order; they add up to the total
	Grams     []quantity.Grams  // of each salt product, in their order
	Mixed     Mixed
	Missed    []Miss
	Conflicts []Conflict
}

// Miss is a target that the best recipe does not meet.
type Miss struct {
	Target Target
	Got    float64
	// Alone says that it is out of reach of these waters and salts even by itself.
	Alone bool
}

// Conflict is a pair of targets of which each can be met while the other is let go, but not both.
type Conflict struct{ A, B Aim }

// Unfillable is a recipe for more litres than the sources have.
type Unfillable struct {
	Wanted, Have quantity.Litres
}

func (e Unfillable) Error() string {
	return fmt.Sprintf("%.3g L are wanted and the waters give %.3g L; take less or add a water", float64(e.Wanted), float64(e.Have))
}

// BadTarget is a target that cannot be aimed at.
type BadTarget struct{ Target Target }

func (e BadTarget) Error() string {
	var names []string
	for _, a := range [...]Aim{AimGH, AimKH, AimCa, AimMg, AimNa, AimK, AimCl, AimSO4, AimNO3, AimTemperature} {
		names = append(names, string(a))
	}
	return fmt.Sprintf("a target %q from %g to %g cannot be aimed at; use one of %s, the lower end first",
		e.Target.Aim, e.Target.Lo, e.Target.Hi, strings.Join(names, ", "))
}

// Compose finds how many litres of each water and grams of each salt make a total whose numbers
// come closest to the targets, and says which targets cannot be met and which stand against each
// other. It is a least-squares problem with bounds: each miss counts in steps of its target, and
// where several recipes do as well the one with least salt is taken. No CO2 is exchanged.
// Errors: [Unfillable], [BadTarget], [OutOfSpan], [TooMuchSalt].
func Compose(total quantity.Litres, sources []Source, stocks []Stock, targets []Target) (Recipe, error) {
	if !(total > 0 && total <= highestLitres) {
		return Recipe{}, OutOfSpan{"litres", float64(total), 0, highestLitres, "L"}
	}
	var have quantity.Litres
	for i := range sources {
		if err := sources[i].Composition.check(); err != nil {
			return Recipe{}, err
		}
		if sources[i].Most < 0 {
			return Recipe{}, OutOfSpan{"litres of " + sources[i].Name, float64(sources[i].Most), 0, highestLitres, "L"}
		}
		if sources[i].Most == 0 {
			have += total
		} else {
			have += sources[i].Most
		}
	}
	if have < total {
		return Recipe{}, Unfillable{total, have}
	}
	for _, t := range targets {
		if _, ok := aims[t.Aim]; !ok || !(t.Lo <= t.Hi) || t.Step < 0 || math.IsInf(t.Lo, 1) || math.IsInf(t.Hi, -1) {
			return Recipe{}, BadTarget{t}
		}
	}
	p := problem{total, sources, stocks, targets}
	out, err := p.solve(nil)
	if err != nil {
		return out, err
	}
	out.Missed = p.missed(out.Mixed, nil)
	for i := range out.Missed {
		m := &out.Missed[i]
		alone, err := p.solve(func(t Target) bool { return t.Aim == m.Target.Aim })
		if err != nil {
			return out, err
		}
		m.Alone = !p.met(alone.Mixed, m.Target)
	}
	out.Conflicts = p.conflicts(out.Missed)
	return out, nil
}

type problem struct {
	total   quantity.Litres
	sources []Source
	stocks  []Stock
	targets []Target
}

// solve finds the recipe for the targets that keep says (all when it is nil). The unknowns are the
// share of each source, grams per litre of each salt, and for each target the value aimed at within
// its range, all with bounds.
func (p *problem) solve(keep func(Target) bool) (Recipe, error) {
	ns, nk := len(p.sources), len(p.stocks)
	var aimed []Target
	for _, t := range p.targets {
		if keep == nil || keep(t) {
			aimed = append(aimed, t)
		}
	}
	n := ns + nk + len(aimed)
	lo, hi := make([]float64, n), make([]float64, n)
	for i, s := range p.sources {
		hi[i] = 1
		if s.Most > 0 {
			hi[i] = math.Min(1, float64(s.Most/p.total))
		}
	}
	for k, s := range p.stocks {
		hi[ns+k] = s.Salt.Solubility / s.purity()
		if s.Most > 0 {
			hi[ns+k] = math.Min(hi[ns+k], float64(s.Most)/float64(p.total))
		}
	}
	var a [][]float64
	var b []float64
	row := func() []float64 {
		r := make([]float64, n)
		a = append(a, r)
		b = append(b, 0)
		return r
	}
	const whole = 1e4 // weight of "the shares make the whole"; the rest is put right afterwards
	r := row()
	for i := range ns {
		r[i] = whole
	}
	b[0] = whole
	for j, t := range aimed {
		step := t.Step
		if step == 0 {
			step = aims[t.Aim].step
		}
		r := row()
		of := aims[t.Aim].of
		base := of(&Composition{})
		for i := range p.sources {
			r[i] = (of(&p.sources[i].Composition) - base) / step
		}
		for k, s := range p.stocks {
			if t.Aim != AimTemperature {
				c := s.perGram()
				r[ns+k] = (of(&c) - base) / step
			}
		}
		x := ns + nk + j
		r[x] = -1
		lo[x], hi[x] = math.Max(t.Lo, -1e6)/step, math.Min(t.Hi, 1e6)/step
	}
	for k := range p.stocks { // least salt, gently
		row()[ns+k] = 1e-5
	}
	for i := range p.sources { // and of equal blends the one with equal shares
		row()[i] = 1e-6
	}
	x := boundedLeastSquares(a, b, lo, hi)
	return p.recipe(x[:ns], x[ns:ns+nk])
}

func (s Stock) purity() float64 {
	if s.Purity == 0 {
		return 1
	}
	return float64(s.Purity)
}

// perGram is what a gram of the product adds to a litre.
func (s Stock) perGram() Composition {
	a, f := s.Salt.PerGram(), Molality(s.purity())
	return Composition{
		Ca: f * a.Ca, Mg: f * a.Mg, Na: f * a.Na, K: f * a.K, Cl: f * a.Cl, SO4: f * a.SO4, NO3: f * a.NO3,
		Alk: Equivalents(f) * a.Alk,
	}
}

// recipe turns shares into litres that add up, and mixes.
func (p *problem) recipe(shares, perLitre []float64) (Recipe, error) {
	out := Recipe{Litres: make([]quantity.Litres, len(shares)), Grams: make([]quantity.Grams, len(perLitre))}
	sum := 0.0
	for i, s := range shares {
		if s < 1e-8 {
			shares[i] = 0
		}
		sum += shares[i]
	}
	var parts []Part
	for i, s := range shares {
		out.Litres[i] = quantity.Litres(s / sum * float64(p.total))
		parts = append(parts, Part{p.sources[i].Composition, p.sources[i].DIC, out.Litres[i]})
	}
	m, err := Blend(parts)
	if err != nil {
		return out, err
	}
	for k, g := range perLitre {
		if g < 1e-7 { // less than 0.1 mg in a thousand litres
			g = 0
		}
		out.Grams[k] = quantity.Grams(g * float64(p.total))
		if m, err = m.Dose(p.stocks[k].Salt, out.Grams[k], quantity.Share(p.stocks[k].purity())); err != nil {
			return out, err
		}
	}
	out.Mixed = m
	return out, nil
}

// met allows a target a twentieth of a step, which no kit shows.
func (p *problem) met(m Mixed, t Target) bool {
	step := t.Step
	if step == 0 {
		step = aims[t.Aim].step
	}
	got := aims[t.Aim].of(&m.Composition)
	return got >= t.Lo-0.05*step && got <= t.Hi+0.05*step
}

func (p *problem) missed(m Mixed, keep func(Target) bool) []Miss {
	var out []Miss
	for _, t := range p.targets {
		if (keep == nil || keep(t)) && !p.met(m, t) {
			out = append(out, Miss{Target: t, Got: aims[t.Aim].of(&m.Composition)})
		}
	}
	return out
}

// conflicts names the targets that stand against a missed one: without them it is met, and they
// can be met without it. Targets out of reach by themselves are left out of the trial.
func (p *problem) conflicts(missed []Miss) []Conflict {
	hopeless := map[Aim]bool{}
	for _, m := range missed {
		hopeless[m.Target.Aim] = m.Alone
	}
	var out []Conflict
	for _, m := range missed {
		if m.Alone {
			continue
		}
		for _, t := range p.targets {
			if t.Aim == m.Target.Aim || hopeless[t.Aim] {
				continue
			}
			r, err := p.solve(func(x Target) bool { return x.Aim != t.Aim && !hopeless[x.Aim] })
			if err != nil || !p.met(r.Mixed, m.Target) {
				continue
			}
			c := Conflict{m.Target.Aim, t.Aim}
			if !hasConflict(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}

func hasConflict(list []Conflict, c Conflict) bool {
	for _, x := range list {
		if x == c || x.A == c.B && x.B == c.A {
			return true
		}
	}
	return false
}
