package water

import "halfwater/quantity"

// Known is a number that may be unknown: Is says whether it is known. The zero Known is "not
// known", which is not the same as zero.
type Known[Q quantity.Number] struct {
	Value Q
	Is    bool
}

// Stated is a number that is known.
func Stated[Q quantity.Number](q Q) Known[Q] { return Known[Q]{q, true} }

// Or is the number, or another one where it is not known.
func (k Known[Q]) Or(q Q) Q {
	if k.Is {
		return k.Value
	}
	return q
}
