// Package climate is the air over the land and water of an enclosure: vapour, dew, what evaporates
// and where it goes, heat kept and lost, the length of the day, and the UV of a lamp.
//
// Saturation follows IAPWS-95 (Wagner and Pruss 2002), with the Magnus form of WMO-No. 8 and
// Sonntag 1990 as second roads. Evaporation follows the pool formula of the ASHRAE Handbook, which
// is rough: a measured top-up beats it, and [Box.FitChanges] turns that into the air changes of the
// lid. Heat is one well mixed mass with one conductance. The sun follows the low-precision formulas
// of the Astronomical Almanac, the length of the day NOAA's solar notes.
//
// Each is a closed form or a bisection on plain values; nothing here knows the time or the enclosure.
package climate
