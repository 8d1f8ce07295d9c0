// Package demo holds an invented enclosure as the two files that a user could write: Riverbank,
// mossy frogs over ricefish and shrimp, with 26 weeks of book. Everything in it is made up: a
// plain mass balance by hand with some scatter, read through coarse kits.
package demo
