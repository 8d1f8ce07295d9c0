package dynamics

// sweep carries the state over one step of h days: the exponential splitting described in doc/dynamics.md.
// It goes once through the chain
//
//	temperature, film, water -> mulm -> ammonia -> nitrite -> nitrate -> alkalinity -> oxygen, CO2
//
// In each pool the Monod loss is frozen at the mean of the step and the linear equation that is left,
// y' = S - l y, is solved exactly; what was lost is "old + source - new" and is handed to the next pool,
// so that nothing is made or lost but by rounding, and no pool passes below zero whatever the step. The
// limits of pH, bicarbonate and oxygen stand at the middle of the step. The first pass takes means at the
// start of the step, each further pass those of the pass before: two passes are second order. It gives how far the second
// corrected the first.
func (x *scene) sweep(h float64) (corrected float64) {
	s := &x.State

	// Temperature, film: exact.
	if d := s.Temp - x.piece.Temp; d != 0 {
		e, mean := decayOf(heatRate * h)
		x.warm = warmthOf(x.piece.Temp + d*mean)
		s.Temp = x.piece.Temp + d*e
		if d < 1e-3 && d > -1e-3 {
			s.Temp = x.piece.Temp
		}
		x.warmFor = 1e9 // between: look again
	} else if x.warmFor != s.Temp {
		x.warm, x.warmFor = warmthOf(s.Temp), s.Temp
	}
	film := s.Film
	if rest := x.filmAtRest(); film != rest {
		e, mean := decayOf(x.filmRate() * h)
		s.Film = rest + (film-rest)*mean // while this step lasts
		film = rest + (film-rest)*e
	}
	w := &x.warm

	// Water: the loss of the middle of the step. What seeps takes what is dissolved with it, half of it before all
	// else and half after (Strang); oxygen has it in its own law.
	p, piece := &x.Params, x.piece
	lost := x.losing()
	volume := s.Volume
	if !x.toppedUp {
		s.Volume = max(volume-lost*h/2, 0.1)
		lost = x.losing()
		s.Volume = volume - lost*h
	}
	mid := (volume + s.Volume) / 2
	inv, invH := 1/mid, 1/h
	seeping := p[Seepage] * lost * inv
	half, _ := decayOf(seeping * h / 2)
	s.drain(half)
	if x.toppedUp {
		x.topUp.into(s, lost*h/2)
		s.Volume = volume
	}
	s.Gone.Litres += lost * h
	salt := p[UnwrittenSalt] * x.held * h
	s.Na += salt
	s.Cl += salt
	s.Given.Na += salt
	s.Given.Cl += salt

	// Mulm, binder and chloramine: exact.
	labile, slow := s.Labile, s.Slow
	s.Labile = fade(labile, x.load*piece.Labile, p[LabileRate]*w.mulm, h)
	s.Slow = fade(slow, x.load*piece.Slow, p[SlowRate]*w.mulm, h)
	rotted := labile + slow + x.load*(piece.Labile+piece.Slow)*h - s.Labile - s.Slow
	excreted := x.load * piece.TAN * h
	loosened := 0.0
	if s.Bound > 0 || s.Chloramine > 0 {
		bound, chloramine := s.Bound, s.Chloramine
		s.Bound = fade(bound, 0, binderLetsGo, h)
		s.Chloramine = fade(chloramine, 0, chloramineDecay, h)
		cl := (chloramine - s.Chloramine) * perN
		s.Cl += cl
		s.Given.Cl += cl
		loosened = bound - s.Bound + chloramine - s.Chloramine
	}
	source := (rotted + excreted + loosened) * invH // of total ammonia, mg N/d
	freed := rotted + excreted
	phosphorus := mulmPhosphorus*rotted + x.load*piece.PO4*h

	// Organic carbon, fresh or on activated carbon.
	leach := p[Leach]*x.held + piece.Leach
	doc, meanDOC := s.DOC, 0.0
	if s.Carbon > 0 {
		sorb := carbonRate * s.Carbon * inv * x.carbonLeft()
		_, meanDOC = relax(doc, leach, docDecay+sorb, h)
		before := s.Loaded
		s.Loaded += sorb * meanDOC * h / 2
		sorb = carbonRate * s.Carbon * inv * x.carbonLeft()
		s.Loaded = before
		s.DOC, meanDOC = relax(doc, leach, docDecay+sorb, h)
		s.Loaded += (doc + leach*h - s.DOC) * sorb / (docDecay + sorb)
	} else {
		s.DOC, meanDOC = relax(doc, leach, docDecay, h)
	}

	// Start of the step: what the passes refine.
	var (
		tan, no2, no3, po4     = s.TAN, s.NO2, s.NO3, s.PO4
		meanTAN, meanNO2       = tan, no2
		meanNO3, meanPO4       = no3, po4
		meanO2, oxygen         = s.Oxygen, s.Oxygen
		alk, midAlk            = s.Alk, s.Alk
		pCO2, midCO2           = s.PCO2, s.PCO2 // of the terms; of the middle
		startCO2               = s.PCO2
		work                   = x.mature
		mean                   = x.mature // of the strengths
		grown, grow            Nitrifiers // e^g of the step's growth g, and its mean (e^g - 1)/g
		seed                   = seedPerLitre * x.held
		die                    = p[Decay] * w.decay
		dieFrugal              = die * frugalDecay(p)
		oxidised, ammonium     float64 // mg N in the step
		nitrified, taken, gas  float64
		dissolved              float64
		meanCa                 = s.Ca
		given                  = p[Alkali]*freed*perN - phosphorus*perP
		takenP                 float64
		newTAN, newNO2, newNO3 float64
		newPO4, moves          float64
		first                  quickest
		breath                 = x.oxygen*freed*invH + p[Background]*x.held*w.mulm
		exchange               = x.exchanging()
		rest                   = exchange * x.oxygenAtRest()
	)
	const passes = 2
	for pass := range passes {
		if pass == 0 {
			x.carbonate.of(s, mid, midAlk, meanTAN, midCO2, w)
			x.carbonate.doc = meanDOC * inv
		} else {
			x.carbonate.shift(midAlk*inv, (meanTAN+s.Bound)*inv*perN, meanPO4*inv*perP, midCO2/pCO2)
			pCO2 = midCO2
		}
		x.h = x.carbonate.solve(x.h, nearly)
		bicarbonate := x.carbonate.bicarbonate(x.h)
		acid := x.acid()
		o2 := meanO2 * inv
		ga := w.ammonia * acid * monod(bicarbonate, p[BicarbonateHalf]) * monod(o2, oxygenHalfAmmonia)
		gn := w.nitrite * acid * monod(o2, oxygenHalfNitrite)

		// Ammonia: losses per mg N, all frozen at the mean concentration.
		a := meanTAN * inv
		perFirst, perFrugal, perPlant := 1/(p[AmmoniaHalf]+a), 1/(p[FrugalHalf]+a), 1/(uptakeHalfAmmonia+a)
		gi := ga * inv
		nitrifying := gi * (mean.Ammonia*perFirst + mean.Frugal*perFrugal)
		rooting := x.uptake * inv * perPlant
		drawn := nitrifying + rooting
		if pass == 0 {
			falls := gi*inv*(mean.Ammonia*perFirst*perFirst+mean.Frugal*perFrugal*perFrugal) + rooting*inv*perPlant
			newTAN, meanTAN, moves = sought(tan, source, drawn, falls, h)
		} else {
			newTAN, meanTAN = relax(tan, source, drawn, h)
		}
		used := tan + source*h - newTAN
		ammonium = 0
		if rooting > 0 {
			ammonium = used * rooting / (nitrifying + rooting)
		}
		oxidised = used - ammonium
		grown.Ammonia, grow.Ammonia = growthOf((p[AmmoniaGrowth]*ga*a*perFirst - die) * h)
		mean.Ammonia = work.Ammonia*grow.Ammonia + seed*h/2
		grown.Frugal, grow.Frugal = growthOf((p[FrugalGrowth]*ga*a*perFrugal - dieFrugal) * h)
		mean.Frugal = work.Frugal*grow.Frugal + seed*h/2

		// Nitrite.
		n := meanNO2 * inv
		perNitrite := 1 / (p[NitriteHalf] + n)
		oxidising := gn * inv * mean.Nitrite * perNitrite
		if pass == 0 {
			newNO2, meanNO2, _ = sought(no2, oxidised*invH, oxidising, oxidising*inv*perNitrite, h)
		} else {
			newNO2, meanNO2 = relax(no2, oxidised*invH, oxidising, h)
		}
		nitrified = no2 + oxidised - newNO2
		grown.Nitrite, grow.Nitrite = growthOf((p[NitriteGrowth]*gn*n*perNitrite - die) * h)
		mean.Nitrite = work.Nitrite*grow.Nitrite + seed*h/2

		// Nitrate: plants take it where ammonium leaves them short.
		want := x.uptake * uptakeHalfAmmonia * perPlant * inv / (uptakeHalfNitrate + meanNO3*inv)
		escape := p[Denitrified]
		newNO3, meanNO3 = relax(no3, nitrified*invH, want+escape, h)
		used = no3 + nitrified - newNO3
		taken = 0
		if want > 0 {
			taken = used * want / (want + escape)
		}
		gas = used - taken

		// Phosphate.
		newPO4, takenP = po4+phosphorus, 0
		if u := (ammonium + taken) * invH; u > 0 {
			newPO4, meanPO4 = relax(po4, phosphorus*invH, uptakePhosphorus*u*inv/(uptakeHalfPhosphate+meanPO4*inv), h)
			takenP = po4 + phosphorus - newPO4
		} else {
			meanPO4 = po4 + phosphorus/2
		}

		// Alkalinity.
		if source := p[Stone] * x.held; source < 0 { // as a loss of calcium, which ends at none
			end, mean := relax(s.Ca, 0, -source/2*square(monod(bicarbonate, sinkHalf))/(calciumHalf*mid+meanCa), h)
			dissolved, meanCa = 2*(end-s.Ca), mean
		} else if source > 0 {
			dissolved = dissolving(source, bicarbonate, s.Ca*inv, x.carbonate.saturation(x.h, w)) * h
		}
		change := given + (taken+gas-ammonium-2*oxidised)*perN + takenP*perP + dissolved
		midAlk = alk + change/2
		if pass == 0 && bicarbonate < scarce && meanTAN > 0 { // what it takes slows it: Newton's rule again
			slows := monod(p[BicarbonateHalf], bicarbonate)
			if acid < 1 {
				slows += p[AcidFelt] * pHSlows / acid
			}
			share := max(0, 1+drawn*moves/meanTAN) // of it that more ammonia does not make up for
			midAlk = alk + change/2/(1+oxidised*perN*slows*share/(mid*(bicarbonate+1e3*x.h)))
		}
		s.Alk = alk + change

		// Oxygen: nitrifiers and plants by their flux, breath by its own law.
		flux := (oxygenPerAmmonium*ammonium + oxygenPerNitrate*taken - oxygenToNitrite*oxidised - oxygenToNitrate*nitrified) * invH
		demand := breath / (oxygenHalfBreath*mid + meanO2)
		if flux < 0 { // a demand that no oxygen meets must not pass below zero
			demand -= flux / max(meanO2, 1e-6*mid)
			flux = 0
		}
		s.Oxygen, meanO2 = relax(oxygen, rest+flux, exchange*inv+demand+seeping, h)

		// CO2 at rest again within a day or two after a change.
		if d := startCO2 - p[TankCO2]; d != 0 {
			k := co2OverO2 * exchange * inv / x.carbonate.buffer(x.h, midCO2, w)
			e, m := decayOf(k * h)
			s.PCO2, midCO2 = p[TankCO2]+d*e, p[TankCO2]+d*m
			if d < 1e-4*p[TankCO2] && d > -1e-4*p[TankCO2] && pass == passes-1 {
				s.PCO2 = p[TankCO2]
			}
		}
		if pass == 0 {
			first = quickest{newTAN, newNO2, s.Alk, s.Oxygen, grown}
		}
	}
	corrected = first.off(&quickest{newTAN, newNO2, s.Alk, s.Oxygen, grown}, inv, x.carbonate.bicarbonate(x.h)+1e3*x.h)

	s.Film = film
	s.TAN, s.NO2, s.NO3, s.PO4 = newTAN, newNO2, newNO3, newPO4
	s.Ca = max(s.Ca+dissolved/2, 0) // what is taken may pass what there is by rounding
	s.Given.Ca += dissolved / 2
	sour := (1 - p[Alkali]) * freed * perN / 2
	s.SO4 += sour
	s.Given.SO4 += sour
	s.Given.N += excreted + x.load*(piece.Labile+piece.Slow)*h
	s.Given.P += phosphorus
	s.Plants += ammonium + taken
	s.PlantP += takenP
	s.Gas += gas

	// The strengths: every place grows alike, so the sum and the factors say it all until settle.
	x.mature.Ammonia = work.Ammonia*grown.Ammonia + seed*h*grow.Ammonia
	x.mature.Frugal = work.Frugal*grown.Frugal + seed*h*grow.Frugal
	x.mature.Nitrite = work.Nitrite*grown.Nitrite + seed*h*grow.Nitrite
	x.grown.Ammonia *= grown.Ammonia
	x.grown.Frugal *= grown.Frugal
	x.grown.Nitrite *= grown.Nitrite

	if x.toppedUp {
		volume = s.Volume
		x.topUp.into(s, lost*h/2)
		s.Volume = volume
	}
	s.drain(half)
	return corrected
}

// relax solves y' = source - loss y over h: y at the end, and its mean.
func relax(y, source, loss, h float64) (end, mean float64) {
	z, put := loss*h, source*h
	if z < short {
		rest := restFade(z) // the mean is y m + put (1 - m)/z
		m := 1 - z*rest
		return y*(1-z*m) + put*m, y*m + put*rest
	}
	e := fastExp(-z)
	inv := 1 / z
	m := (1 - e) * inv
	return y*e + put*m, y*m + put*(1-m)*inv
}

// sought is relax with a loss that falls by so much for each unit more of the mean. It takes the loss where the step
// begins and goes by Newton's rule from there to the mean that brings its own loss with it: a pool that is drawn on
// nearly as fast as it could be is far from where it began, and two passes alone would stop short of it. It gives too
// how that mean moves with the loss.
func sought(y, source, loss, falls, h float64) (end, mean, moves float64) {
	z, put := loss*h, source*h
	var fade, rest, dFade, dRest float64 // (1-exp(-z))/z, (1-fade)/z, and their slopes
	if z < short {
		rest = restFade(z)
		fade = 1 - z*rest
		dRest = -1./6 + z*(1./12-z*(1./40-z*(1./180-z*(1./1008))))
		dFade = -rest - z*dRest
		end = y*(1-z*fade) + put*fade
	} else {
		e, inv := fastExp(-z), 1/z
		fade = (1 - e) * inv
		rest = (1 - fade) * inv
		dFade = (e - fade) * inv
		dRest = -(dFade + rest) * inv
		end = y*e + put*fade
	}
	mean = y*fade + put*rest
	moves = h * (y*dFade + put*dRest)
	if left := 1 + falls*moves; left > 0.05 { // else nothing holds the pool but its source
		moves /= left
		return end, max(y+(mean-y)/left, mean/4), moves
	}
	return end, mean, moves
}

// scarce is the bicarbonate, meq/L, below which nitrification feels what it takes of it within a step.
const scarce = 1

// fade is relax without the mean.
func fade(y, source, rate, h float64) float64 {
	e, m := decayOf(rate * h)
	return y*e + source*h*m
}

// settle shares the strengths out to their places, as they were sharing at the last settle.
func (x *scene) settle() {
	if x.grown == (Nitrifiers{1, 1, 1}) {
		return
	}
	was := x.working(x.noFlow)
	extra := Nitrifiers{
		x.mature.Ammonia - was.Ammonia*x.grown.Ammonia,
		x.mature.Frugal - was.Frugal*x.grown.Frugal,
		x.mature.Nitrite - was.Nitrite*x.grown.Nitrite,
	}
	n := 1 + x.stages
	if x.noFlow {
		n = 1
	}
	share := 1 / float64(n)
	for i := range n {
		s := &x.Strength[i]
		s.Ammonia = s.Ammonia*x.grown.Ammonia + extra.Ammonia*share
		s.Frugal = s.Frugal*x.grown.Frugal + extra.Frugal*share
		s.Nitrite = s.Nitrite*x.grown.Nitrite + extra.Nitrite*share
	}
	x.grown = Nitrifiers{1, 1, 1}
}
