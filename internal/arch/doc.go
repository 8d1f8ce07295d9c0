// Package arch holds the rules of the tree, as tests.
//
// rows_test.go is the map: which package stands in which row, who may not know whom, and why. A new
// package does not pass until it has a place there. The rules are about the program; test files may
// look where they like.
//
// Imports are parsed in process, so that Go's test cache notices a changed import. (A test that
// runs "go list" stays "ok (cached)" after a forbidden one.)
package arch
