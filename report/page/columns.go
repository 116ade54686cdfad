package page

import "pourback/report/say"

// wordsIn is a column of words.
func wordsIn[T any](head string, text func(T) string) ColumnOf[T] {
	return ColumnOf[T]{Head: head, Cell: func(row T) say.Cell { return say.Cell{Text: text(row)} }}
}

// monthsIn is a column of months, each such as 2026-10, as text says them.
func monthsIn[T any](head string, month func(T) string, text func(month string) string) ColumnOf[T] {
	return ColumnOf[T]{Head: head, Cell: func(row T) say.Cell { return say.Monthly(say.Capital(text(month(row))), month(row)) }}
}

// numbers is a column of numbers.
func numbers[T any](head string, cell func(T) say.Cell) ColumnOf[T] {
	return ColumnOf[T]{Head: head, Number: true, Cell: cell}
}

// counts is a column of exact counts.
func counts[T any](head string, n func(T) int) ColumnOf[T] {
	return numbers(head, func(row T) say.Cell { return say.Whole(n(row)) })
}

// lastOf are the last n rows, or all.
func lastOf[T any](rows []T, n int) []T { return rows[max(0, len(rows)-n):] }
