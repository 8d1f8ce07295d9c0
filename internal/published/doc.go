// Package published reads testdata/published, the tables of other people's work that the tests
// hold this program against. It is for tests only.
//
// A table is a text file <work>-<table>.txt. It opens with what it is, one "# key: value" a line:
//
//	# work: emerson1975            a key of cite/works.txt
//	# place: table 2, p. 2382      where in the work
//	# units: C; %                  of the columns, in their order
//	# digits: 3 decimals           how finely the work prints, and its stated accuracy if it has one
//	# columns: temperature | pH 7.0 | pH 7.5
//	20 | 0.395 | 1.24
//
// Other comment lines are remarks. Rows are cut at "|", or at blanks when they have none. A number
// is kept as it was printed, so that half of its last digit ([Row.HalfDigit]) can be the tolerance.
//
// check_values.csv in the same folder is one long list of single values with their tolerances;
// [Check] asks it by id:
//
//	published.Check(t, "S10-003", float64(pH))
package published
