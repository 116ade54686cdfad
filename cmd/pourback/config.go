package main

import (
	"encoding/json"
	"fmt"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/spf13/cobra"
)

func newConfig(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "config",
		Short: "Show every setting and where its value came from",
		Args:  wantArgs(0, 0, "no arguments"),
		RunE:  func(*cobra.Command, []string) error { return a.config() },
	}
}

func (a *app) config() error {
	values := a.settings.values()
	if a.settings.JSON {
		type row struct {
			Value any    `json:"value"`
			From  string `json:"from"`
		}
		out := map[string]row{}
		for _, k := range settingKeys {
			value := values[k.key]
			if text, ok := value.(string); ok {
				value = withoutPassword(text)
			}
			out[k.key] = row{value, a.settings.source[k.key]}
		}
		return printJSON(a.stdout, out)
	}
	t := newTable(a.stdout, "setting", "value", "from", "what it is")
	for _, k := range settingKeys {
		inner, isGroup := values[k.key].(group)
		if !isGroup {
			t.AppendRow(table.Row{k.key, show(values[k.key]), a.settings.source[k.key], k.about})
			continue
		}
		t.AppendRow(table.Row{k.key, "", a.settings.source[k.key], k.about})
		for _, name := range sortedKeys(inner) {
			t.AppendRow(table.Row{"  " + name, show(inner[name])})
		}
	}
	t.Render()
	return nil
}

// show writes a value as the settings file would have it, but for a password.
func show(v any) string {
	if s, ok := v.(string); ok {
		return withoutPassword(s)
	}
	b, err := json.Marshal(v)
	if err != nil {
		return fmt.Sprint(v)
	}
	return string(b)
}
