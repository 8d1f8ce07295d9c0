package quantity

// MgOxygenPerHour is an uptake of oxygen from the water. Unit: mg O2/h.
type MgOxygenPerHour float64

// PerDay is a first-order rate. Unit: 1/d.
type PerDay float64
