package sheet

// Codes of what can be wrong with a value or a row. They are stable names; a
// failing input for each stands in testdata/problems.
const (
	codeMissing       = "missing-value"         // a required column is empty
	codeCellError     = "spreadsheet-error"     // #DIV/0! and its kin
	codeFormula       = "formula"               // a formula where its value belongs
	codeNoFormulaYet  = "formula-without-value" // a workbook's formula that was never calculated
	codeNotNumber     = "not-a-number"
	codeNotSize       = "not-a-size"
	codeWrongUnit     = "wrong-unit"
	codeUnitLeftOut   = "unit-left-out"
	codeNotWhole      = "not-whole"
	codeRounded       = "rounded"
	codeRange         = "range"
	codeApproximate   = "approximate"
	codeOtherDecimal  = "other-decimal-mark"
	codeEitherDecimal = "ambiguous-number"
	codeNotMoney      = "not-an-amount"
	codeNotDate       = "not-a-date"
	codeNoSuchDay     = "impossible-date"
	codeYearLeftOut   = "year-left-out"
	codeSerial        = "serial-date"
	codeTimeDropped   = "time-left-out"
	codeNotMoment     = "not-a-time"
	codeNoDay         = "time-without-day"
	codeNoTime        = "day-without-time"
	codeZone          = "time-zone"
	codeZoneDropped   = "time-zone-left-out"
	codeNotFlag       = "not-yes-or-no"
	codeUnknownWord   = "unknown-word"
	codeLikeKnown     = "like-a-known-word"
	codeNewWord       = "new-word"
	codeNoneAndMore   = "none-and-more"
	codeTooLong       = "text-too-long"
	codeControl       = "control-characters"
	codeUnreadable    = "unreadable-characters"
	codeExtraCells    = "extra-cells"
	CodeSameNumber    = "same-number"
	codeSwallowed     = "rows-in-a-cell"
)

// Codes of what can be said about a table as a whole. None of them sets a row
// aside.
const (
	codeTitle       = "title-row"
	codeAgain       = "heading-again"
	codeTotals      = "totals-row"
	codeNoRows      = "no-rows"
	codeNoUnit      = "heading-without-unit"
	codeNoHeading   = "column-without-heading"
	codeHiddenSheet = "hidden-sheet"
	codeDayOrder    = "order-of-dates"
	codeDoubtful    = "doubtful-heading"
	codeAddedUp     = "rows-added-up"
	codeHiddenCells = "hidden-cells"
	codeProtected   = "protected-sheet"
	codeMetric      = "read-as-metric"
	codeRemarkRow   = "remark-row"
)

// Codes of refusals of a whole file.
const (
	codeEmpty       = "empty-file"
	codeTooLarge    = "file-too-large"
	codeForeign     = "not-a-record-file"
	codeLocked      = "locked-workbook"
	codeOldWorkbook = "old-workbook"
	codeBroken      = "broken-workbook"
	codeUnpacks     = "unpacks-too-far"
	codeNul         = "nul-byte"
	codeLongRow     = "row-too-long"
	codeOpenQuote   = "open-quote"
	codeManyColumns = "too-many-columns"
	codeTwice       = "column-twice"
	codeNoTable     = "no-table"
	codeEncoding    = "unknown-encoding"
)
