package say

import (
	"regexp"
	"slices"
	"strings"
	"sync"

	"pourback/ingest/record"
)

// What is odd about a record is written by the rules that find it, in English, and
// kept and handed on so. It is said in the reader's language by the sentence that
// it was written from: each stands below with the places of its values, and as a
// message of the catalogue.

// oddCodes are the codes of what is odd about a record, as words.
var oddCodes = []string{
	"unusual value", "impossible value", "impossible beside its row", "unlike events", "dates out of order",
	"amount unlike product", "cost incomplete", "clog over delay", "clog without pump", "spot without clog",
	"won from itself", "callback undated", "callback without kind", "crack without finding", "crack gone",
	"visits disagree", "visit before pour", "neat unlike area", "under delivered", "over delivered", "over time limit",
	"used under neat", "odd overage", "names nothing", "names no placement",
}

// oddities are the sentences that say what is odd and what would be right, each
// ahead of those that would match what it does. {words} are again one of these.
var oddities = []string{
	"{words}: kept, and left out of every figure",
	"correct it", "if it is right, say so: {command}", "did you mean {amount}?", "is it right?", "usual is {amount} to {other}",
	"at least {amount}", "at most {amount}", "that gives {amount}", "neat is {amount}", "not above zero",
	"more than two for each yard", "more than twice the neat volume", "thicker than {amount}", "more than {amount} million", "more than {amount}",
	"more minutes lost to clogs than to all delays", "more minutes than a day has", "less than 0.8 of the neat volume", "less than {amount}",
	"before {column} {day}", "a later day", "not quantity × rate", "far from area × thickness", "area × thickness gives {amount}",
	"it leaves too little of {amount} for the slab's neat volume, {other}", "the slab's neat volume is {amount}", "no crew lays {amount} in that time",
	"cannot be beside {columns}", "the events add up to {amount}", "the events are taken", "the costs add up to {amount}", "the costs are taken",
	"no actual amount for {word}", "without it the job has no actual cost",
	"the minutes of all delays count clogs too", "a clog where nothing was pumped", "method pump, or no clogs", "a job cannot lead to itself", "name the earlier job",
	"a callback without its date counts nowhere", "give the day of the first callback",
	"a callback without its kind is not counted as a crack", "crack, scaling, settlement, ponding, finish or other",
	"over 120 minutes from batching to discharge", "check the times, or the concrete",
	"a spot is for clogs, and the cause is {word}", "cause clog, or no spot", "a crack is described but the finding is {word}", "finding crack, or no crack",
	"another visit on the same day found {word}", "keep the right one", "a crack was seen on {day}, and no repair is on record", "write the repair down",
	"a visit before the pour on {day}", "mend one of the two dates",
	"a row of {table} names a job with no placement poured by {day}", "hand in its placements, or mend the job number",
	"a row of {table} does not say which of the job's placements it belongs to", "fill in its placement",
	"a row of {table} names placement {name}, which the job does not have", "hand in that placement, or mend the row",
	"used {amount} % more than the drawing", "used {amount} % less than the drawing", "{amount} % more was to be expected", "{amount} % less was to be expected",
	"nearest to {table}, but without the column {lacks}", "nearest to {table}, but without the columns {lacks}", "add what is missing", "a table of {table} needs {lacks}",
	"no row of it names the columns of a record table", "name the columns in one row, for placements: {lacks}", "only {known} is known of its columns",
	"name the file or sheet after its table: {tables}",
	"check the neat volume, the yards delivered and what was left over", "check the yards and what was left over, or note what happened",
}

// oddPlaces are what a record is called beside its job: {slab} is a job, and a
// placement where there is one.
var oddPlaces = []string{"job {slab}", "{slab} load {name}", "{slab} delay {name}", "{slab} visit {day}", "{slab} {task} on {day}"}

// sentence is a message with what finds it in a text.
type sentence struct {
	message string
	finds   *regexp.Regexp
}

var (
	oddSentences = sync.OnceValue(func() []sentence { return sentencesOf(oddities) })
	oddNames     = sync.OnceValue(func() []sentence { return sentencesOf(oddPlaces) })
)

func sentencesOf(messages []string) []sentence {
	all := make([]sentence, len(messages))
	for i, m := range messages {
		pattern := regexp.MustCompile(`\\\{(\w+)\\\}`).ReplaceAllString(regexp.QuoteMeta(m), `(?P<$1>.+?)`)
		all[i] = sentence{m, regexp.MustCompile("(?s)^" + pattern + "$")}
	}
	return all
}

// written says a text by the sentence that it was written from, or as it stands
// where it was written from none.
func (v *Voice) written(text string, from []sentence) string {
	for _, s := range from {
		found := s.finds.FindStringSubmatch(text)
		if found == nil {
			continue
		}
		values := with{}
		for i, name := range s.finds.SubexpNames()[1:] {
			values[name] = v.writtenValue(name, found[i+1])
		}
		return v.say(s.message, values)
	}
	return text
}

// writtenValue is a value of a sentence, by its name there.
func (v *Voice) writtenValue(name, value string) string {
	switch name {
	case "words":
		return v.written(value, oddSentences())
	case "word", "task":
		return v.Word(value)
	case "columns":
		return v.List(strings.Split(value, " and "))
	case "lacks":
		return v.columnNames(strings.Split(value, ", "))
	case "known":
		return v.columnNames(strings.Split(value, " and "))
	case "table":
		if name := v.RecordTable(value); name != value {
			return Lower(name)
		}
	case "amount", "other":
		if at := strings.LastIndexByte(value, ' '); at > 0 {
			return v.unit(value[:at], value[at:])
		}
	}
	return value
}

// columnNames are columns in people's words, as a list.
func (v *Voice) columnNames(columns []string) string {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = Lower(v.columnName(c))
	}
	return v.List(names)
}

// columnWritten finds what may be the name of a column in a text: no word of people
// has a low line in it.
var columnWritten = regexp.MustCompile(`[a-z]+(?:_[a-z]+)+=?`)

// inWords is a text with the columns that it names in people's words. What a command
// says of them (column=value) stays.
func (v *Voice) inWords(text string) string {
	return columnWritten.ReplaceAllStringFunc(text, func(name string) string { return Lower(v.columnName(name)) })
}

// Oddity is a problem with what is wrong and what would be right in the language, and
// columns in people's words.
func (w Records) Oddity(p record.Problem) record.Problem {
	p.Wrong, p.Right = w.oddText(p.Wrong), w.oddText(p.Right)
	return p
}

// oddText says each part of a text: as few of its parts together as were written
// from one sentence, for a value may hold what parts them.
func (w Records) oddText(text string) string {
	const parting = "; "
	parts := strings.Split(text, parting)
	var said []string
	for len(parts) > 0 {
		n := 1
		for n < len(parts) && !fromAny(strings.Join(parts[:n], parting), oddSentences()) {
			n++
		}
		if !fromAny(strings.Join(parts[:n], parting), oddSentences()) {
			n = 1 // nothing of ours
		}
		v, part := w.Voice, strings.Join(parts[:n], parting)
		if !fromAny(part, oddSentences()) {
			v = New("", "", "") // it stays in English, and so do its columns
		}
		said = append(said, v.inWords(w.written(part, oddSentences())))
		parts = parts[n:]
	}
	return strings.Join(said, parting)
}

// fromAny says whether a text was written from one of the sentences.
func fromAny(text string, sentences []sentence) bool {
	return slices.ContainsFunc(sentences, func(s sentence) bool { return s.finds.MatchString(text) })
}

// Where names the record that a problem is about.
func (w Records) Where(p record.Problem) string { return w.written(p.Record, oddNames()) }

// Code is a problem's code as words.
func (w Records) Code(code string) string {
	words := strings.ReplaceAll(Clean(code, ShortName), "-", " ")
	if slices.Contains(oddCodes, words) {
		words = w.text(words)
	}
	return Capital(words)
}
