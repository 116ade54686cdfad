package record

// Dictionary is what settings add to the words this package knows: further
// headings for columns, and further words for what columns may hold.
type Dictionary struct {
	Columns map[string]string            // heading → our column
	Words   map[string]map[string]string // our column → word as written → term
}

// WordsOf is the column's vocabulary, widened.
func (d Dictionary) WordsOf(c *Column) *Vocabulary {
	if c.Words == nil {
		return nil
	}
	return c.Words.With(d.Words[c.Name])
}
