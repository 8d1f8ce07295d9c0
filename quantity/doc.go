// Package quantity holds a type for each physical quantity of an enclosure.
//
// Every type is a defined float64 with one canonical unit, stated at the type; constructors and
// readers carry other units in their names. A mass concentration of a nitrogen or phosphorus
// species is always kept as the element (mg N/L, mg P/L): what a kit prints ("as NO3", "as N")
// is its [Basis] and is settled at the door. Temperature and temperature difference are two
// types, and so are gross and held litres, total and free ammonia, alkalinity and hardness.
//
// A [Measurand] names what a reading is of (the word is that of the metrologists' vocabulary,
// VIM, JCGM 200:2012, 2.3) and knows its units, so that a text from a card, a file or a form
// becomes a canonical number in one place, [Measurand.Canonical].
package quantity
