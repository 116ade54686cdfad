package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// jsonCall is a call that prints JSON, and the schema in report that describes it.
type jsonCall struct {
	schema string
	args   []string
}

// jsonCalls are made one after the other in one folder, on the demo's database.
var jsonCalls = []jsonCall{
	{"demo", words("demo --dir demo --jobs 60")},
	{"config", words("config")},
	{"ingest", words("ingest log.csv no-such.csv")},
	{"ingest", words("ingest mended.csv")},
	{"batches", words("batches")},
	{"changes", words("batches 9")},
	{"reading", words("ingest --explain log.csv")},
	{"undo", words("undo 9")},
	{"batches", words("batches")},
	{"changes", words("batches 8")},
	{"fix", words("fix J-1/A thickness_in=4.5 delivered_yd=10.5 --why measured")},
	{"changes", words("batches 10")},
	{"picture", words("picture J-1/A slab.png no-such.png --caption joint")},
	{"picture", words("picture J-1/A")},
	{"picture", words("picture --take-back KEY")},
	{"picture", words("picture --purge")},
	{"ingest", words("ingest many.csv --dry-run")},
	{"check", words("check")},
	{"factors", words("factors")},
	{"factors", words("visits")},
	{"bid", words("bid --use patio --length 20 --width 16 --thickness 4")},
	{"bid", words("bid --use patio --length 20 --width 16 --thickness 4 --dry-run")},
	{"bid", words("bid --revise 10 --thickness 5 --reinforcement rebar")},
	{"bid", words("bid --copy 10 --length 24 --explain")},
	{"bids", words("bids --won 12 --void 2")},
	{"bid", words("bids 11")},
	{"bid", words("bids --explain 11")},
	{"compared", words("bids --compare 10,11")},
	{"balance", words("balance --bid 1 --placed-yd 2 --covered 40")},
	{"balance", words("balance --bid 1 --placed-yd 2 --covered 40 --now 7:30 --stopped-min 20")},
	{"backtest", words("backtest")},
	{"report", words("report --out pages")},
	{"export", words("export out")},
	{"backup", words("backup copy.db")},
	{"restore", words("restore copy.db")},
	{"serve", words("serve --add-owner Ana")},
}

func words(s string) []string { return strings.Fields(s) }

// TestJSONOfEveryCommand demands of everything that is printed under --json
// that its keys are in snake_case and stand in the command's schema.
func TestJSONOfEveryCommand(t *testing.T) {
	schemas, err := filepath.Abs(filepath.Join(top, "report"))
	if err != nil {
		t.Fatal(err)
	}
	inFolder(t, map[string]string{"log.csv": jobLog, "slab.png": readFile(t, slabPicture), "mended.csv": strings.Replace(jobLog, ",10.5,", ",10.75,", 1),
		"many.csv": "job_no,placed_on,use,area_sqft,thickness_in\n" + strings.Repeat("J-9,2025-06-03,patio,big,4\n", mostAlike+1)})
	called, key := map[string]bool{}, "" // of the picture
	for _, c := range jsonCalls {
		called[c.args[0]] = true
		args := append([]string{"--json", "--quiet", "--db", filepath.Join("demo", "pourback.db")}, c.args...)
		if c.args[0] == "demo" {
			args = append([]string{"--json", "--quiet"}, c.args...)
		}
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], "KEY", key)
		}
		got := call(t, args...)
		if found := regexp.MustCompile(`"picture": "([0-9a-f]+)"`).FindStringSubmatch(got.stdout); found != nil {
			key = found[1]
		}
		value := any(nil)
		if err := json.Unmarshal([]byte(got.stdout), &value); err != nil {
			t.Errorf("%v: %v\n%.400s\n%s", c.args, err, got.stdout, got.stderr)
			continue
		}
		s := readSchema(t, filepath.Join(schemas, c.schema+".schema.json"))
		for _, wrong := range s.against(s, strings.Join(c.args, " "), value) {
			t.Error(wrong)
		}
	}
	env := environment{stdout: os.Stdout, stderr: os.Stderr}
	for _, cmd := range newRoot(&env).Commands() {
		if name := cmd.Name(); !called[name] && name != "completion" && name != "help" {
			t.Errorf("%s: no call of it is held against a schema", name)
		}
	}
}

// jsonSchema is the part of a JSON schema that says which keys there are.
type jsonSchema map[string]any

func readSchema(t *testing.T, file string) jsonSchema {
	var s jsonSchema
	if err := json.Unmarshal([]byte(read(t, file)), &s); err != nil {
		t.Fatal(file, ": ", err)
	}
	return s
}

var snakeCase = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

// against lists what of a value does not stand in its rule.
func (s jsonSchema) against(rule jsonSchema, path string, value any) (wrong []string) {
	if ref, ok := rule["$ref"].(string); ok {
		rule = s.part("$defs").part(strings.TrimPrefix(ref, "#/$defs/"))
	}
	switch value := value.(type) {
	case map[string]any:
		for key, member := range value {
			at, inner := path+"."+key, rule.part("properties").part(key)
			if inner == nil {
				inner = rule.part("additionalProperties") // its keys are data, such as headings
			} else if !snakeCase.MatchString(key) {
				wrong = append(wrong, at+": not in snake_case")
			}
			if inner == nil {
				wrong = append(wrong, at+": not in its schema")
				continue
			}
			wrong = append(wrong, s.against(inner, at, member)...)
		}
		for _, key := range rule.list("required") {
			if _, there := value[key]; !there {
				wrong = append(wrong, path+": no "+key)
			}
		}
	case []any:
		for i, member := range value {
			wrong = append(wrong, s.against(rule.part("items"), fmt.Sprintf("%s[%d]", path, i), member)...)
		}
	}
	if kinds := rule.list("type"); len(kinds) > 0 && !strings.Contains(strings.Join(kinds, " "), kindOf(value)) {
		wrong = append(wrong, fmt.Sprintf("%s: %s, want %v", path, kindOf(value), kinds))
	}
	return wrong
}

func (s jsonSchema) part(name string) jsonSchema {
	inner, _ := s[name].(map[string]any)
	return inner
}

// list is one text or several.
func (s jsonSchema) list(name string) (texts []string) {
	switch v := s[name].(type) {
	case string:
		return []string{v}
	case []any:
		for _, one := range v {
			texts = append(texts, one.(string))
		}
	}
	return texts
}

// kindOf is a value's type as schemas name it; a whole number may be a number too.
func kindOf(value any) string {
	switch v := value.(type) {
	case nil:
		return "null"
	case string:
		return "string"
	case bool:
		return "boolean"
	case []any:
		return "array"
	case float64:
		if v == float64(int64(v)) {
			return "" // an integer or a number
		}
		return "number"
	}
	return "object"
}
