// Package report turns a finished work sheet into what a person or a program reads: a [View] of
// sentences in the order of the work, as text for a terminal and a printer, and JSON for another
// program. It takes finished structs and reads no store.
package report
