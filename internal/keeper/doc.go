// Package keeper is what a keeper can do, whichever door they come through: write a line, take a
// reading, look at today, ask for the work sheet. Commands, pages and later doors call it; it
// checks what comes in, gives a line its name and its two times, and keeps the belief by last
// line so that no page estimates twice.
//
// Everything refused comes back as a [Fault] with a sentence for a person with wet hands.
package keeper
