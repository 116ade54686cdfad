// Package record says what a completed job is: the seven tables a user hands
// in, their columns with units, the words they may hold and the rules a row
// must keep. It is the one place where a column is named; reading, storing,
// exporting and the documentation all follow from the tables declared here.
//
// A value that is missing is missing, never zero: every optional field is an
// [Opt], a [Date] or a [Moment] whose zero value says "not recorded".
package record
