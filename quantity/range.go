package quantity

// Number is any quantity of this package.
type Number interface{ ~float64 }

// Range is a closed span of one quantity, Lo <= Hi. A missing end is an infinity.
type Range[Q Number] struct{ Lo, Hi Q }

// Has reports whether q lies in the range, ends included.
func (r Range[Q]) Has(q Q) bool { return r.Lo <= q && q <= r.Hi }

// Empty reports whether no value lies in the range.
func (r Range[Q]) Empty() bool { return !(r.Lo <= r.Hi) }

// Meet is the part that two ranges share; it may be empty.
func (r Range[Q]) Meet(s Range[Q]) Range[Q] { return Range[Q]{max(r.Lo, s.Lo), min(r.Hi, s.Hi)} }

// Width is Hi - Lo.
func (r Range[Q]) Width() Q { return r.Hi - r.Lo }

// Middle is the arithmetic middle.
func (r Range[Q]) Middle() Q { return r.Lo + (r.Hi-r.Lo)/2 }

// Band is what is believed of one quantity: the median and the 10 % and 90 % quantiles, so that
// the truth is believed to lie between Lo and Hi with 8 chances in 10. High is the 95 % quantile
// and Low the 5 % one: what the program acts on.
type Band[Q Number] struct{ Low, Lo, Median, Hi, High Q }
