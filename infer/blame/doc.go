// Package blame weighs who is to blame when the readings of a book do not fit together.
//
// [Contradictions] goes by a posterior of package fit. At its mode, what every kit is to see before anything was read is taken as normal
// ([fit.Sight]; scales.go). A charge (charge.go: readings, units, lots and pens; otherwise.go: the book and the water) says
// that other numbers were to be seen, or with another spread; the readings that it is about are judged one after the other by what
// they really show, given all the others (jury.go, weigh.go). Odds are those beforehand (constants.txt) times how much likelier
// the charge makes the book; the likeliest is taken as found, and the rest is looked at again (court.go). checks.go says
// what to do to tell culprits apart. [Risen] needs no posterior: levels that rise without water in.
//
// # Limits
//
// The numbers that the kits are to see are linear about the mode: where KH runs out they are less sure than they seem. Two faults of one
// lot at once, a clock or a kit's name that was mixed up, and water temperature are not among the charges. How often the right one is
// named stands in doc/infer.md, "Who is to blame".
package blame
