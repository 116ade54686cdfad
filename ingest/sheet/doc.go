// Package sheet reads job sheets as people keep them: CSV files and workbooks
// with titles above the headings, units of their own, totals at the bottom and
// slips of the pen. It recognises which record tables a file holds and hands
// out typed records row by row, each with everything that is wrong with it.
//
// Nothing that stood in a file is lost without a word: a row is a record, or a
// record with problems, or it is named among the table's problems. A file that
// cannot be read to its end is refused as a whole with a [Refusal].
//
// Reading goes from left to right through the files of this folder: a file is
// opened (open.go) and its form found (dialect.go; workbook.go, sheets.go); its
// headings are found (header.go) and understood (heading.go, recognise.go); rows
// are cut out of it (blocks.go, sheetxml.go) and read cell by cell (cell.go,
// plain.go for the plain majority); what a value says is in numeral.go,
// quantity.go, money.go, date.go, moment.go, word.go and text.go; and what a
// whole row says in row.go.
//
// A job log in its owner's own words takes a longer way (logopen.go, log.go): its
// heading rows are found (headrows.go) and the key of its codes (legend.go), their
// words taken for concepts (vocabulary.go, concept.go; clipped.go for words that
// are glued or cut short), each column of the file held against what each column
// of a table is known by (affinity.go) with what stands below it (profile.go,
// plausible.go) and beside it (ties.go; anchor.go, deduce.go and worked.go for
// what numbers tell whatever they are headed, telling.go for other values; days
// without years in undated.go), and the best assignment of the
// whole kept, with a margin that says what is sure (understand.go, assign.go,
// conclude.go; parts.go for a cost that only its parts tell) and at most five
// questions where it is not (questions.go). Its cells are read in
// the manner of their column (manner.go; size.go, steel.go, joints.go, people.go,
// sums.go, callbacks.go), and rows lean on each other (carry.go, letters.go,
// addup.go, derive.go).
package sheet
