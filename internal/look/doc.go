// Package look holds what the pages, the drawings and the printed sheets share: the colours, the
// style sheet, the three marks with their words, the phrases for odds, and the way a number is
// printed for a person.
//
// Its rules in short: colour is always the fourth sign, after shape, word and weight; a value is
// four things together (about, number, unit, could be); a chance is a phrase such as "1 in 6" and
// never a percentage; no digit is printed that the doubt does not carry.
//
// The package knows no file and no clock. [CSS] is a text that the web package serves as one sheet.
package look
