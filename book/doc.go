// Package book is what happened: lines of every kind, in order, never altered.
//
// A [Line] has two times: At, when it held or happened, and Recorded, when the book learnt it. A
// fact (package enclosure) is a line too, with the date from which it holds. A correction is a new
// line that withdraws an old one; a doubted reading is set aside by a line; nothing is deleted.
// [FactsAt] gives the facts in force at a moment as they were known at a moment.
//
// A new kind of line costs one file: a struct with a Kind method, its checks, and one call of
// register. Fields are plain: text, numbers of package quantity, times, truths and lists of such.
// Their names carry the unit when the type does not.
package book
