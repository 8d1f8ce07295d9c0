// Package cite keeps the works that the program's numbers come from, and the shape of a number
// that says so.
//
// Everything that a chemist or a keeper might dispute is data: a text table beside the package
// that uses it, one line per value, with unit, span, doubt, work and place. [Parse] reads such a
// table. The works themselves stand once, in works.txt of this package: a key, how far the work
// was seen, and the reference. "Common practice" and "from memory" are legitimate sources;
// silence is not.
package cite
