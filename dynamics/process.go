package dynamics

import "slices"

// Process is one thing that changes the water: a law and its work. The sum of all processes is the
// right-hand side that [Course.Reference] integrates tightly and [Course.Run] in a fast sweep.
type Process struct {
	Name  string
	Law   string   // in symbols of the field
	Works []string // keys of package cite's works
	add   func(x *scene, d *State)
}

// Processes are all that a water goes through between events.
func Processes() []Process { return slices.Clone(processes) }

var processes = []Process{
	Waste, Mulm, AmmoniaOxidation, NitriteOxidation, Growth, PlantUptake, Denitrification,
	StoneAndPeat, Organics, ActivatedCarbon, Binder, OxygenBalance, CarbonDioxide, Vapour, Seeping, Saltening, Warming, SurfaceFilm,
}
