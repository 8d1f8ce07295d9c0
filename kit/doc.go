// Package kit says what a shown value means: a drop test, a colour card or a meter never gives a
// number, it gives the interval in which the truth may lie.
//
// A drop test that changes colour at drop n says that the truth lies in (n-1, n] steps, because
// the n-th drop was the first that sufficed. A card shows a step, and so the truth lies between
// the geometric means of that step and its neighbours, or "between" two steps. A meter has an
// accuracy and the day of its last calibration. A [Kit] is a fact of the enclosure that holds
// from a date: a new lot, opened on another day, is another kit.
package kit
