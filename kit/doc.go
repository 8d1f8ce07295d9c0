// Package kit says what a shown value means: a drop test, a colour card or a meter never gives a
// number, it gives the interval in which the truth may lie.
//
// A drop test that changes colour at drop n says that the truth lies in (n-1, n] steps, because
// the n-th drop was the first that sufficed. A card shows a step, and so the truth lies between
// the geometric means of that step and its neighbours, or "between" two steps. A meter has an
// accuracy and the day of its last calibration. A [Kit] is a fact of the enclosure that holds
// from a date: a new lot, opened on another day, is another kit.
//
// [Kit.Read] gives the interval, [Kit.Error] how the kit errs beside it, [Bare] reads a number typed
// without a kit. A measurand that counts differently by basis is never read without one: as NO3 or
// as N is asked once for a lot ([BasisWanted]). Who cannot tell answers [quantity.NotStated]: the interval then
// spans every basis, and says what it is on each ([Way]).
//
// Limits. The error models are common practice, plausible from classroom comparisons and not from
// one work; they stand in errors.txt. They do not know that a colour was read under a yellow lamp, nor
// that a reagent was not shaken beyond the share of odd readings, nor what a lot past its date has
// become: 25 % in the first year, 75 % at most, is what is allowed for.
package kit
