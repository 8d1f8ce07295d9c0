package dynamics

// Fill is an enclosure filled to the mark with a water at the start of the course, at rest with its air,
// without mulm or nitrifiers.
func (c *Course) Fill(p *Params, w Water) State {
	own := c.own(p)
	s := State{Temp: c.Pieces[0].Temp, PCO2: p[TankCO2]}
	w.Volume = 1
	w.into(&s, own.held)
	s.Given = Ledger{}
	x := scene{own: own, warm: warmthOf(s.Temp)}
	s.Oxygen = x.oxygenAtRest() * s.Volume
	return s
}

// Usual is the stretch in which a span of days ends, with what comes in as in the mean of the span: a meal is of its day, what
// lives by it is not. Where nothing comes in in that span it is the mean of the whole course.
func (c *Course) Usual(from, to float64) Piece {
	from, to = max(from, 0), min(to, c.Days)
	var out Piece
	mean := func(from, to float64) (sum float64) {
		out.TAN, out.Labile, out.Slow, out.PO4, out.Leach = 0, 0, 0, 0, 0
		for i := range c.Pieces {
			p := &c.Pieces[i]
			if share := (min(p.To, to) - max(p.From, from)) / (to - from); share > 0 {
				out.TAN += share * p.TAN
				out.Labile += share * p.Labile
				out.Slow += share * p.Slow
				out.PO4 += share * p.PO4
				out.Leach += share * p.Leach
			}
		}
		return out.TAN + out.Labile + out.Slow
	}
	for i := range c.Pieces {
		if p := &c.Pieces[i]; p.From < to || i == 0 {
			out = *p
		}
	}
	if !(from < to) || mean(from, to) == 0 {
		mean(0, c.Days)
	}
	return out
}

// month is how much of a course tells what is usual at an end of it: four weeks.
const month = 28

// Mature fills an enclosure as [Course.Fill] does and puts mulm and nitrifiers where they would be if the
// usual load of the first four weeks had lasted for long: mulm so that as much rots as falls; nitrifiers so that
// they just hold their own, which is mu/b times the load. elsewhere is the share of them outside the
// filter (0.2, 5-95 %: 0.05-0.6), frugal the share of the second guild in the oxidation of ammonia.
func (c *Course) Mature(p *Params, w Water, elsewhere, frugal float64) State {
	s := c.Fill(p, w)
	first, l := c.begins(), p[Load]
	warm := warmthOf(s.Temp)
	s.Labile = l * first.Labile / (p[LabileRate] * warm.mulm)
	s.Slow = l * first.Slow / (p[SlowRate] * warm.mulm)
	load := l * (first.TAN + first.Labile + first.Slow)
	die := p[Decay] * warm.decay
	all := Nitrifiers{
		Ammonia: (1 - frugal) * load * p[AmmoniaGrowth] / die,
		Frugal:  frugal * load * p[FrugalGrowth] / (die * frugalDecay(p)),
		Nitrite: load * p[NitriteGrowth] / die,
	}
	c.Place(&s, all, elsewhere)
	c.quiet(p, &s, &first)
	return s
}

// begins is the first stretch, with the usual load of the first four weeks.
func (c *Course) begins() Piece {
	usual, first := c.Usual(0, month), c.Pieces[0]
	first.TAN, first.Labile, first.Slow, first.PO4, first.Leach = usual.TAN, usual.Labile, usual.Slow, usual.PO4, usual.Leach
	return first
}

// New fills an enclosure and seeds it with a share of the nitrifiers that the load will need.
func (c *Course) New(p *Params, w Water, seed, elsewhere float64) State {
	s := c.Fill(p, w)
	warm := warmthOf(s.Temp)
	first := c.begins()
	need := p[Load] * (first.TAN + first.Labile + first.Slow)
	c.Place(&s, Nitrifiers{seed * need / warm.ammonia, seed * need / warm.ammonia, seed * need / warm.nitrite}, elsewhere)
	return s
}

// Place shares nitrifiers out: a share elsewhere, the rest evenly over the stages; all elsewhere when
// there is no filter.
func (c *Course) Place(s *State, all Nitrifiers, elsewhere float64) {
	n := min(len(c.Stages), Parts-1)
	if n == 0 {
		elsewhere = 1
	}
	for i := range s.Strength {
		part := 0.0
		switch {
		case i == Elsewhere:
			part = elsewhere
		case i <= n:
			part = (1 - elsewhere) / float64(n)
		}
		s.Strength[i] = Nitrifiers{part * all.Ammonia, part * all.Frugal, part * all.Nitrite}
	}
}

// quiet sets ammonia and nitrite to where the nitrifiers bring them, the residual S* = K b/(mu - b), and
// oxygen to where exchange meets what is breathed.
func (c *Course) quiet(p *Params, s *State, first *Piece) {
	load := p[Load] * (first.TAN + first.Labile + first.Slow)
	x := scene{own: c.own(p), State: *s, piece: first}
	x.load, x.uptake = p[Load], 0
	x.warm = warmthOf(s.Temp)
	demand := x.breathed() + load*(oxygenToNitrite+oxygenToNitrate)
	x.Oxygen = s.Volume * max(0.5, x.oxygenAtRest()-demand/x.exchanging())
	s.Oxygen = x.Oxygen
	x.look()
	ga, gn := x.ammoniaLimit(), x.nitriteLimit()
	no2 := s.Volume * restOf(load, []float64{x.mature.Nitrite * gn}, []float64{p[NitriteHalf]})
	tan := s.Volume * restOf(load, []float64{x.mature.Ammonia * ga, x.mature.Frugal * ga}, []float64{p[AmmoniaHalf], p[FrugalHalf]})
	s.NO2 += no2
	s.TAN += tan
	s.Alk += (tan - no2) / molarN
}

// restOf is the concentration at which Monod terms oxidise a load; 5 mg/L at most.
func restOf(load float64, strength, half []float64) float64 {
	lo, hi := 0.0, 5.0
	for range 60 {
		mid := (lo + hi) / 2
		sum := 0.0
		for i := range strength {
			sum += strength[i] * monod(mid, half[i])
		}
		if sum < load {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
