package report

// wordsIn is a column of words.
func wordsIn[T any](head string, text func(T) string) column[T] {
	return column[T]{head: head, cell: func(row T) Cell { return Cell{Text: text(row)} }}
}

// numbers is a column of numbers.
func numbers[T any](head string, cell func(T) Cell) column[T] {
	return column[T]{head: head, number: true, cell: cell}
}

// counts is a column of exact counts.
func counts[T any](head string, n func(T) int) column[T] {
	return numbers(head, func(row T) Cell { return whole(n(row)) })
}

// lastOf are the last n rows, or all.
func lastOf[T any](rows []T, n int) []T { return rows[max(0, len(rows)-n):] }
