package out

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// schema is a JSON Schema 2020-12 document, of which the keywords below are
// understood. A keyword that is not is an error, so that none is passed over.
type schema struct{ root map[string]any }

func factorsSchema(t testing.TB) *schema { return schemaIn(t, "factors.schema.json") }

func schemaIn(t testing.TB, file string) *schema {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", file))
	if err != nil {
		t.Fatal(err)
	}
	var root map[string]any
	if err := json.Unmarshal(b, &root); err != nil {
		t.Fatal(file, ": ", err)
	}
	return &schema{root}
}

// check lists what is wrong with the value at path.
func (s *schema) check(path string, value any) []string {
	return s.against(s.root, path, value)
}

func (s *schema) against(rule map[string]any, path string, value any) (wrong []string) {
	fail := func(format string, args ...any) { wrong = append(wrong, path+": "+fmt.Sprintf(format, args...)) }
	for word, want := range rule {
		switch word {
		case "$schema", "$id", "title", "description", "$defs", "then", "required", "items":
		case "$ref":
			name := strings.TrimPrefix(want.(string), "#/$defs/")
			wrong = append(wrong, s.against(s.root["$defs"].(map[string]any)[name].(map[string]any), path, value)...)
		case "type":
			if !hasType(value, want) {
				fail("%v is no %v", value, want)
			}
		case "enum":
			if !slices.Contains(want.([]any), value) {
				fail("%v is none of %v", value, want)
			}
		case "pattern":
			if text, ok := value.(string); ok && !regexp.MustCompile(want.(string)).MatchString(text) {
				fail("%q is unlike %v", text, want)
			}
		case "minimum", "exclusiveMinimum", "exclusiveMaximum":
			if n, ok := value.(float64); ok && outside(word, n, want.(float64)) {
				fail("%v breaks %s %v", n, word, want)
			}
		case "properties", "additionalProperties":
			if word == "additionalProperties" && rule["properties"] != nil {
				continue // seen to with the properties
			}
			wrong = append(wrong, s.members(rule, path, value)...)
		case "if":
			if then, ok := rule["then"].(map[string]any); ok && len(s.against(want.(map[string]any), path, value)) == 0 {
				wrong = append(wrong, s.against(then, path, value)...)
			}
		default:
			fail("the schema says %q, which this check does not know", word)
		}
	}
	object, _ := value.(map[string]any)
	for _, name := range list(rule["required"]) {
		if _, there := object[name.(string)]; object != nil && !there {
			fail("no %v", name)
		}
	}
	if items, ok := rule["items"].(map[string]any); ok {
		for i, item := range list(value) {
			wrong = append(wrong, s.against(items, fmt.Sprintf("%s[%d]", path, i), item)...)
		}
	}
	return wrong
}

func (s *schema) members(rule map[string]any, path string, value any) (wrong []string) {
	object, _ := value.(map[string]any)
	properties, _ := rule["properties"].(map[string]any)
	for name, member := range object {
		at := path + "." + name
		switch rest := rule["additionalProperties"].(type) {
		case map[string]any:
			if properties[name] == nil {
				wrong = append(wrong, s.against(rest, at, member)...)
			}
		case bool:
			if !rest && properties[name] == nil {
				wrong = append(wrong, at+": is not in factors.schema.json; describe it there")
			}
		}
		if p, ok := properties[name].(map[string]any); ok {
			wrong = append(wrong, s.against(p, at, member)...)
		}
	}
	return wrong
}

func list(v any) []any { l, _ := v.([]any); return l }

func outside(word string, n, end float64) bool {
	switch word {
	case "minimum":
		return n < end
	case "exclusiveMinimum":
		return n <= end
	}
	return n >= end
}

func hasType(v, want any) bool {
	if several, ok := want.([]any); ok {
		return slices.ContainsFunc(several, func(one any) bool { return hasType(v, one) })
	}
	switch x := v.(type) {
	case nil:
		return want == "null"
	case string:
		return want == "string"
	case bool:
		return want == "boolean"
	case float64:
		return want == "number" || want == "integer" && x == math.Trunc(x)
	case []any:
		return want == "array"
	}
	return want == "object"
}
