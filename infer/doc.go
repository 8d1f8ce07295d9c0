// Package infer holds what we believe the water is, given the book.
//
// A [Belief] is a set of equally likely draws: each [Draw] is one way in which the water, the held
// litres and the enclosure's own rates may be, consistent with one another, so that every band and
// every chance is counted over the same draws. [Believe] makes it from the lines of the book, a
// moment and a seed, and from nothing else. [Expected] is what a kit would show, for the moment after
// a reading was entered.
//
// # Model
//
// A belief rests on whole histories: runs of the forward model (package dynamics) under own constants, a
// start, source waters, weeks, litres, services, lots and departures that the readings allow (package
// infer/fit). What the book says becomes a question (question.go, beginning.go, source.go), each kind of reading
// its evidence (evidence.go, series.go, beside.go, basis.go), the ends of the histories the draws
// (histories.go). [Foresee] runs them on over lines that are expected; [Learn] tells what they say of the
// enclosure's own constants; package blame weighs who is to blame for what does not fit.
//
// [Glance] is the first look: one pass through the book with one joint normal over some thirty unknowns (carry.go, pour.go,
// read.go, gauss.go), total ammonia and nitrite as chances over cells of their logarithm with bumps
// (pool.go). It takes milliseconds, serves what cannot wait, and stands in where histories are not to be had
// ([Belief].Rough).
//
// # Limits
//
// What was learnt before the last 26 to 39 weeks comes from the half year before them and no further, widened (seasons.go,
// inherit.go); the bias of a lot in use does not. Two accounts are described at most ([Belief].Branches). What simulated
// enclosures said of the bands stands in doc/infer.md.
package infer
