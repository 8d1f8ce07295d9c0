// Package say holds every sentence that a person reads, by code, in one catalogue, and prints
// numbers as the kit behind them can support.
//
// The packages below speak in codes and typed facts; [Sentence] puts the facts into the sentence
// of a code. The catalogue is a set of text files, one sentence a line, so that it can be read
// through and put into another language without reading code. Voice: short main clauses, the act
// first, doubt as a plain fact; never praise, never scold, never "safe".
package say
