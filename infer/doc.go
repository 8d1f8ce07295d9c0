// Package infer holds what we believe the water is, given the book.
//
// A [Belief] is a set of equally likely draws: each [Draw] is one way in which the water, the held
// litres and the enclosure's own rates may be, consistent with one another, so that every band and
// every chance is counted over the same draws. This is its first form: the last readings, uniform
// within their interval, carried through changes, top-ups, evaporation and feed by mass balance.
// A full inference replaces it behind the same door, [Believe].
package infer
