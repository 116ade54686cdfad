// Package analysis turns a history of completed jobs into the owner's answers:
// the factors to carry into the next bid, each a [Figure] with its evidence.
// One question, one file. It reads no clock, file, database or global source
// of randomness: the data date comes with the history, the rest in [Options].
//
// It is the one place where records meet the methods of analysis/stat.
package analysis
