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
// Nitrate, KH, GH, conductivity, chloride, pH and temperature, the rates at which the enclosure makes
// nitrate and loses KH, evaporation, the held water, the doubts of each source water and the bias of
// each lot or pen are one joint normal distribution. It is carried from line to line by mass balance
// (changes, top-ups, salts, evaporation; nitrogen put in by package load; pH with the logarithm of KH)
// and grows wider with time. A reading is an interval with the error of its kit (package kit), and a
// share of readings that say nothing; the distribution is made normal again by its mean and variance.
// Colour cards are read on the logarithm with a floor, because their steps and their errors are ratios:
// within a class the truth is taken as likely to lie in one ratio as in the next, not in one
// milligram as in the next. The held water is that of package enclosure and is not learnt again.
//
// Total ammonia and nitrite are fast and usually next to nothing; they are carried as chances over
// cells of their logarithm with bumps, see pool.go.
//
// # Limits
//
// This is the first form. The rates are learnt, but only as net slopes; what plants take and mulm
// gives is not told apart. One process per quantity, no oxygen, phosphate or colour, no carried-over
// prior: a window of 39 weeks is read whole. Two branches near KH zero are blurred into one. What
// simulated enclosures said of its bands stands in doc/infer.md.
//
// [Foresee] carries the same belief on over lines that are expected. [Learn] asks more: it fits whole
// histories of the forward model (packages dynamics and infer/fit) and tells what the readings say of the
// enclosure's own constants. It takes seconds; when it takes less than half of one, it shall take the
// place of the walk behind the same door.
package infer
