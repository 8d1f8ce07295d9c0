// Package water is the chemistry of fresh to slightly brackish water, 0 to 40 C.
//
// A [Composition] is what a water holds: ions, total ammonia, phosphate, alkalinity and dissolved
// organic carbon, per kilogram, at one temperature. It leaves one thing open, the carbon dioxide,
// and so there are three ways to ask for the pH:
//
//   - [GivenPH]: pH and alkalinity are known; what CO2 is there?
//   - [Open]: alkalinity and the pressure of CO2 are known; what pH?
//   - [Closed]: alkalinity and dissolved inorganic carbon are known; what pH (after mixing)?
//
// Each gives a [Speciation]: every species, pH, CO2, ionic strength, saturation, free ammonia,
// buffer, conductivity. [Blend] mixes any number of waters and conserves every element and the
// charge. pH is never averaged.
//
// # Model
//
// Carbonate constants of Plummer and Busenberg (1982), activity coefficients of Truesdell and
// Jones (1974), ion pairs of Ca, Mg, Na, K and NH4 with carbonate, sulfate and phosphate as in
// Parkhurst and Appelo (2013), ammonia of Emerson and others (1975), organic acids of Hruska and
// others (2003). One litre is taken as one kilogram of water, as the field does for fresh water.
// Nothing precipitates and no gas leaves unless a function says so. Every constant stands, with
// its work, in a table that [Constants] lists.
//
// # Guarantee
//
// Any finite composition is answered, its balances closed (elements and charge to 1e-12,
// alkalinity to 1e-9), or refused with a typed error, in bounded time: a quick road of
// substitution with Newton steps, and behind it a bracket on pH that cannot lose the root.
//
// # Limits
//
// Temperature -1 to 45 C (the constants are good for 0 to 40), ionic strength to 0.1 mol/kg at
// reference grade, to 1 with growing doubt; beyond that it refuses. No silica, iron, borate or
// fluoride; nitrite is taken as fully dissociated.
package water
