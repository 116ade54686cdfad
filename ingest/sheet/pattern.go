package sheet

import (
	"regexp"
	"sync"
)

// pattern is a regular expression that is compiled when it is first asked: there
// are some two hundred, and most calls of the program read no file.
type pattern struct {
	compiled func() *regexp.Regexp
}

// patterns are all of them.
var patterns []*pattern

func patternOf(text string) *pattern {
	p := &pattern{sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })}
	patterns = append(patterns, p)
	return p
}

func (p *pattern) String() string                 { return p.compiled().String() }
func (p *pattern) MatchString(s string) bool      { return p.compiled().MatchString(s) }
func (p *pattern) FindString(s string) string     { return p.compiled().FindString(s) }
func (p *pattern) FindStringIndex(s string) []int { return p.compiled().FindStringIndex(s) }
func (p *pattern) FindSubmatch(b []byte) [][]byte { return p.compiled().FindSubmatch(b) }
func (p *pattern) FindStringSubmatch(s string) []string {
	return p.compiled().FindStringSubmatch(s)
}
func (p *pattern) FindStringSubmatchIndex(s string) []int {
	return p.compiled().FindStringSubmatchIndex(s)
}
func (p *pattern) FindAllString(s string, n int) []string {
	return p.compiled().FindAllString(s, n)
}
func (p *pattern) FindAllStringIndex(s string, n int) [][]int {
	return p.compiled().FindAllStringIndex(s, n)
}
func (p *pattern) FindAllStringSubmatch(s string, n int) [][]string {
	return p.compiled().FindAllStringSubmatch(s, n)
}
func (p *pattern) FindAllStringSubmatchIndex(s string, n int) [][]int {
	return p.compiled().FindAllStringSubmatchIndex(s, n)
}
func (p *pattern) ReplaceAllString(s, with string) string {
	return p.compiled().ReplaceAllString(s, with)
}
func (p *pattern) ReplaceAllStringFunc(s string, with func(string) string) string {
	return p.compiled().ReplaceAllStringFunc(s, with)
}
func (p *pattern) ReplaceAllFunc(b []byte, with func([]byte) []byte) []byte {
	return p.compiled().ReplaceAllFunc(b, with)
}
func (p *pattern) Split(s string, n int) []string { return p.compiled().Split(s, n) }
