// Package files is the way in and out: the enclosure file (TOML), the book file (CSV), and the text
// of a line's body that the store keeps. doc/files.md is its specification, and its examples are
// tests.
//
// A field of a kind of line has one name in all of them, made from its Go name; a new kind needs
// nothing here. [ReadBook] and [ReadEnclosure] turn a file into lines that are ready to be appended,
// all or none, with every fault named by its line number; [WriteBook] and [WriteEnclosure] write
// what a book holds so that reading it gives the same book.
package files
