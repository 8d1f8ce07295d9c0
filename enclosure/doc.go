// Package enclosure is the thing itself: basin and levels, the water really held, land, fittings,
// filter stages, source waters and stock, as facts.
//
// A fact is a value that holds from a date; package book keeps it as a line. This package knows
// what the facts mean together: litres from a level and back (the level table), the held water
// from geometry joined with dilutions, and the keeping ranges that the stock asks for.
package enclosure
