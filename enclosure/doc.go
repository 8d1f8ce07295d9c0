// Package enclosure is the thing itself: basin and levels, the water really held, land, fittings,
// filter stages, source waters and stock, as facts.
//
// A fact is a value that holds from a date; package book keeps it as a line. Each has a Check that
// says what is wrong with it and what to do. This package knows what the facts mean together:
//
//   - [LevelTable]: litres from a level and back. The measures of the box give its form (straight
//     walls, a bed that rises from front to back or a profile drawn along the length, stone and
//     wood, the pores of the bed); level tests correct how much a millimetre holds.
//   - [HeldWater]: one estimate from the kind of box, its measures, level tests and all changes of
//     known litres with a reading before, after and of the poured water.
//   - [KeepingRanges]: the ranges that the stock asks for, each end with the animal that sets it.
//   - [Fitting.Production]: what an RO unit makes with water of a temperature.
//   - [HeldEstimate.DoseLitres]: the litres to dose for, never the size on a label.
//
// Limits. Walls are upright. Land without a profile is one share of the footprint, so how its foot
// slopes is only learnt from level tests. A dilution counts what mixes within the hour; how much of
// the water in pores and under a false bottom does, is a judgement (0.3 to 0.9). The numbers stand in
// constants.txt: arithmetic, common practice and judgement, no published work.
package enclosure
