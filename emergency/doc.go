// Package emergency is the first acts and the hours left, with no belief, no signal and no server.
//
// [Write] puts everything on one [Sheet]: six [Sign]s with their first act already under them, the
// usual cautions before any arithmetic, and for whoever has a minute more the numbers: how long
// oxygen and warmth last without power ([PowerCut]), where a heater leads that has failed or stuck
// ([HeaterFault]), what each change of water would do to free ammonia ([Ammonia]), and how chloride
// stands to nitrite ([Nitrite]).
//
// It knows only facts ([Now]): what the enclosure is and what was read last. It sums its own worst
// case from the rates of package husbandry, the heat of package climate and the mixing of package
// change. What is not known gets a wide span in its place (constants.txt) and is named as [Missing];
// nothing is left blank and nothing is zero. Bands are 5, 10, 50, 90 and 95 % quantiles of seeded
// draws; a sheet acts on the 5 % one of the hours, never the middle.
//
// Model of the oxygen, pump off: V dC/dt = kL A (saturation - C) - R, with the film on the surface
// as the low case. Its limits: breathing does not slow as oxygen falls, plants are taken as in the
// dark, and the water as mixed; it is meant to be short rather than long. Model of the warmth: one
// mass of water that loses heat to the room, which cools too; land, glass and animals store heat
// that is not counted.
//
// Works: Clarke and Johnston 1999 (clarke1999) for what fish breathe, Benson and Krause 1984 for
// saturation, US EPA 1986 (epa1986) and 2013 (epa2013) for the lines, Tomasso and others 1979
// (tomasso1979) for chloride and nitrite.
package emergency
