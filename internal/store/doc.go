// Package store is the book on SQLite: lines are appended, never altered.
//
// One file holds the books of any number of enclosures. [Store.Append] writes its lines in one
// transaction and returns only when they are safe on disk (write-ahead log, synchronous=FULL): a line
// that was acknowledged survives a crash of the program and a cut of the power, as far as the disk
// tells the truth. One connection writes, several read.
//
// The SQL keeps to what PostgreSQL reads as well (a test holds that), so that another engine can take
// the place of this one behind the same conformance suite, package storetest.
package store
