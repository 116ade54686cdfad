package say

func (s Site) entryName(column string) string { return Capital(s.columnName(column)) }
