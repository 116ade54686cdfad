package main

import (
	"maps"
	"slices"

	"pourback/ingest/record"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// nearestKey is the setting whose name takes the fewest changes to reach.
func nearestKey(key string) string {
	var names []string
	for _, k := range settingKeys {
		names = append(names, k.key)
	}
	nearest, _ := record.Nearest(key, names)
	return nearest
}
