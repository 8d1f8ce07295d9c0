// Package caution holds the warnings of the trade as values: what calls for one, in which order
// they stand, which work or practice they come from, and who decides where the program does not.
//
// A sheet asks [For] with the triggers of its work and prints what comes back before anything
// else. The sentences stand in the catalogue of sentences, by code. A caution never takes the
// place of the local code, the maker's label, a doctor, a vet or the authority: it points to them.
package caution
