package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"
)

// progress draws a bar on standard error while a long file is read, where that
// is a terminal and the file takes longer than a moment.
type progress struct {
	a     *app
	file  string
	began time.Time
	drawn time.Time
}

func newProgress(a *app) *progress { return &progress{a: a} }

func (p *progress) update(file string, done, total int64) {
	now := p.a.now()
	if file != p.file {
		p.file, p.began = file, now
	}
	const moment, frame = 500 * time.Millisecond, 100 * time.Millisecond
	if !p.a.terminal || p.a.settings.Quiet || total <= 0 || now.Sub(p.began) < moment || now.Sub(p.drawn) < frame {
		return
	}
	p.drawn = now
	const width = 30
	full := int(width * min(done, total) / total)
	fmt.Fprintf(p.a.stderr, "\r%s [%s%s] %3d %%", filepath.Base(file), strings.Repeat("#", full), strings.Repeat(".", width-full), 100*min(done, total)/total)
}

// clear takes the bar away before something else is written.
func (p *progress) clear() {
	if !p.drawn.IsZero() {
		fmt.Fprint(p.a.stderr, "\r\x1b[K")
		p.drawn = time.Time{}
	}
}
