package change

import "halfwater/water"

// Measured is what a speciated water reads: GH and KH by its ions, EC by the model of package water.
func Measured(s water.Speciation) Levels {
	c := s.Composition
	return Levels{GH: c.GH(), KH: c.KH(), EC: s.EC25(), Temp: c.Temperature}
}
