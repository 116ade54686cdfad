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
package sheet
