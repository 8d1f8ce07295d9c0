package water

import (
	"sync"

	"halfwater/quantity"
)

// Pose is one water and the way its carbon is known. Exactly one of PH, PCO2 and DIC is known.
type Pose struct {
	Composition Composition
	PH          Known[quantity.PH]
	PCO2        Known[quantity.Atm]
	DIC         Known[Molality]
}

// Speciate answers one pose. Errors: [Unposed] and those of [GivenPH], [Open], [Closed].
func (m Model) Speciate(p *Pose) (Speciation, error) {
	switch {
	case p.PH.Is && !p.PCO2.Is && !p.DIC.Is:
		return m.GivenPH(p.Composition, p.PH.Value)
	case p.PCO2.Is && !p.PH.Is && !p.DIC.Is:
		return m.Open(p.Composition, p.PCO2.Value)
	case p.DIC.Is && !p.PH.Is && !p.PCO2.Is:
		return m.Closed(p.Composition, p.DIC.Value)
	}
	return Speciation{}, Unposed{}
}

// Unposed is a water of which not exactly one of pH, CO2 pressure and DIC is known.
type Unposed struct{}

func (Unposed) Error() string {
	return "give exactly one of pH, CO2 pressure and dissolved inorganic carbon beside the alkalinity"
}

// Batch answers many poses on all cores, each as by itself: out and errs have the length and the
// order of poses. The result does not depend on the number of cores.
func (m Model) Batch(poses []Pose) (out []Speciation, errs []error) {
	out, errs = make([]Speciation, len(poses)), make([]error, len(poses))
	const bundle = 256 // waters a goroutine takes: a millisecond, long against starting it
	var wait sync.WaitGroup
	for from := 0; from < len(poses); from += bundle {
		to := min(from+bundle, len(poses))
		wait.Go(func() {
			for i := from; i < to; i++ {
				out[i], errs[i] = m.Speciate(&poses[i])
			}
		})
	}
	wait.Wait()
	return out, errs
}
