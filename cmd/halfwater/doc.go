// Command halfwater keeps the book of a half-land, half-water enclosure and computes from it: what
// the water is now, what to pour back, and the work sheet of a visit.
//
// Exit codes: 0 done; 1 the program's own fault; 2 what was typed or read cannot be; 3 it can be
// read but will not be done (a step that is not for one visit); 4 there is no such thing; 5 the
// book cannot be read or written.
package main
