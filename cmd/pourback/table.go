package main

import (
	"io"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// newTable is a plain table for the terminal.
func newTable(w io.Writer, heads ...any) table.Writer {
	t := table.NewWriter()
	t.SetOutputMirror(w)
	style := table.StyleLight
	style.Options = table.Options{SeparateHeader: true, SeparateColumns: true}
	style.Format.Header = text.FormatDefault
	t.SetStyle(style)
	t.AppendHeader(heads)
	return t
}
