package water

import (
	"math"

	"halfwater/quantity"
)

// Completed is an analysis made whole: an electroneutral composition, and how far each part of it
// may be elsewhere.
type Completed struct {
	// Composition is the middle of what the water may be. Its charges agree exactly.
	Composition Composition
	// DIC is known when pH and alkalinity are.
	DIC Known[Molality]
	// EC is the conductivity that the model gives the middle, at 25 C.
	EC quantity.Conductivity
	// The bands cover what was not stated (and 3 % of the conductivity model). What was stated is
	// taken as it is: its own doubt is that of the kit.
	Ca, Mg, Na, K, Cl, SO4, NO3 quantity.Band[Molality]
	Alk                         quantity.Band[Equivalents]
	Notes                       []Note
}

// Note is the code of a remark on a completed analysis; its sentence stands in the catalogue.
type Note string

// The notes.
const (
	SplitAssumed    Note = "water.split-assumed"   // calcium and magnesium were split as is usual
	NitrateAssumed  Note = "water.nitrate-assumed" // nitrate was not stated and was taken as is usual
	SodiumAssumed   Note = "water.sodium-assumed"  // sodium was not stated and no EC shows it
	KHAssumed       Note = "water.kh-assumed"      // KH was not stated; the band is wide
	ECDiffers       Note = "water.ec-differs"      // computed and stated EC differ by more than 15 %
	ECBelowIons     Note = "water.ec-below"        // the EC stated is a little below what the other numbers make
	LooksSoftened   Note = "water.softened"        // little hardness for its KH
	HardnessBounded Note = "water.gh-bounded"      // GH was not stated; the EC is so low that it must be small
	GHAndIonsDiffer Note = "water.gh-ions-differ"  // GH and Ca + Mg differ by more than 5 %; the ions were used
)

// Complete makes an analysis whole. It needs the hardness (GH, or calcium and magnesium) unless
// the EC is so low that it hardly matters (under 60 uS/cm), and then either KH, or EC, or the
// anions; with GH, KH, EC and NO3 the bands are narrow.
//
// Method: what is stated is fixed; the remaining freedom is Na + K against Cl + SO4 (and Alk when
// KH is not stated), tied by electroneutrality. EC decides between them where it is stated, usual
// waters otherwise. How the free parts divide is drawn from what is usual (priors.txt), 200 times
// by a fixed sequence, for the bands.
//
// Errors: [OutOfSpan], [CannotKnow], [Unbalanced], [Disagrees].
func (a Analysis) Complete() (Completed, error) {
	out, p, err := a.middle()
	if err == nil {
		p.bands(&out)
	}
	return out, err
}

// Middle is [Analysis.Complete] without its bands, for whoever needs only the composition: it
// costs a hundredth. The bands are left at zero.
func (a Analysis) Middle() (Completed, error) {
	out, _, err := a.middle()
	return out, err
}

func (a Analysis) middle() (out Completed, p *puzzle, err error) {
	if err := a.check(); err != nil {
		return out, nil, err
	}
	if p, err = a.puzzle(); err != nil {
		return out, nil, err
	}
	out.Notes = p.notes
	middle, err := p.solve(draw{0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5})
	if err != nil {
		return out, nil, err
	}
	out.Composition = middle
	s, err := GivenPH(middle, p.ph)
	if err == nil {
		out.EC = s.EC25()
		if a.PH.Is && !p.freeAlk {
			out.DIC = Stated(s.DIC)
		}
	} else {
		if a.PH.Is {
			return Completed{}, nil, err
		}
		if s, err = Open(middle, 4.2e-4); err != nil {
			return Completed{}, nil, err
		}
		out.EC = s.EC25()
	}
	if a.EC.Is {
		off := float64(out.EC/a.EC.Value) - 1
		if math.Abs(off) > ecDisagreement {
			out.Notes = append(out.Notes, ECDiffers)
		} else if p.pinched {
			out.Notes = append(out.Notes, ECBelowIons)
		}
	}
	if kh := middle.KH(); float64(kh) > 3 && float64(middle.GH()) < 0.15*float64(kh) || a.Kind == Softened {
		out.Notes = append(out.Notes, LooksSoftened)
	}
	return out, p, nil
}
