package report

import (
	"errors"
	"fmt"
	"html/template"
	"runtime"
	"sync"
	"time"

	"github.com/dop251/goja"
)

// Widths at which charts are drawn for readers without script, in CSS pixels:
// for paper and wide screens, and for phones.
const (
	wideStill   = 720
	narrowStill = 340
)

// drafter draws charts as text, by the same library that draws them live. It
// serves one caller at a time. What it draws depends on the chart alone.
type drafter struct {
	draw func(option, name string, width, height int) (string, error)
}

// program is the drawing library with our own scripts, compiled once.
var program = sync.OnceValues(func() ([]*goja.Program, error) {
	lib, err := library()
	if err != nil {
		return nil, err
	}
	var all []*goja.Program
	for _, part := range []struct{ name, text string }{
		{"host.js", "function setTimeout() { return 0; } function clearTimeout() {}"}, // the library asks for them and needs no more
		{libraryName, lib}, {"chart.js", chartScript}, {"still.js", mustRead("assets/still.js")},
	} {
		p, err := goja.Compile(part.name, part.text, false)
		if err != nil {
			return nil, fmt.Errorf("drawing library: %w", err)
		}
		all = append(all, p)
	}
	return all, nil
})

func newDrafter() (*drafter, error) {
	all, err := program()
	if err != nil {
		return nil, err
	}
	vm := goja.New()
	vm.SetRandSource(func() float64 { return 0.5 }) // no clock and no chance: same input, same bytes
	vm.SetTimeSource(func() time.Time { return time.Unix(0, 0) })
	for _, p := range all {
		if _, err := vm.RunProgram(p); err != nil {
			return nil, fmt.Errorf("drawing library: %w", err)
		}
	}
	d := &drafter{}
	return d, vm.ExportTo(vm.Get("still"), &d.draw)
}

// spare keeps drafters between reports.
var spare = make(chan *drafter, 2)

func takeDrafter() (*drafter, error) {
	select {
	case d := <-spare:
		return d, nil
	default:
		return newDrafter()
	}
}

func giveBack(d *drafter) {
	select {
	case spare <- d:
	default:
	}
}

// drawn is a chart as a page holds it.
type drawn struct {
	option       template.JS // JSON in which < is escaped
	wide, narrow template.HTML
	err          error
}

// drawAll draws the charts of all pages. A chart that cannot be drawn holds the
// error; the others are drawn all the same.
func drawAll(pages []Page) map[*Chart]*drawn {
	all, todo := map[*Chart]*drawn{}, []*Chart{}
	for _, p := range pages {
		for _, e := range p.Exhibits {
			if e.Chart != nil && e.Chart.Why == "" {
				all[e.Chart] = &drawn{}
				todo = append(todo, e.Chart)
			}
		}
	}
	queue := make(chan *Chart, len(todo))
	for _, c := range todo {
		queue <- c
	}
	close(queue)
	var wait sync.WaitGroup
	for range min(2, runtime.GOMAXPROCS(0), len(todo)) {
		wait.Go(func() {
			d, err := takeDrafter()
			for c := range queue {
				if *all[c] = (drawn{err: err}); err == nil {
					*all[c] = d.chart(c)
				}
			}
			if err == nil {
				giveBack(d)
			}
		})
	}
	wait.Wait()
	return all
}

// chart draws a chart at both widths.
func (d *drafter) chart(c *Chart) drawn {
	option, err := c.Option()
	if err != nil {
		return drawn{err: err}
	}
	wide, err := d.still(c, string(option), "wide", wideStill)
	narrow, err2 := d.still(c, string(option), "narrow", narrowStill)
	return drawn{template.JS(option), wide, narrow, errors.Join(err, err2)}
}

// still is a chart at a width. The text is markup of our own making: elements
// and attributes by list, everything else escaped.
func (d *drafter) still(c *Chart, option, kind string, width int) (template.HTML, error) {
	text, err := d.draw(option, c.ID+"-"+kind, width, c.Height)
	if err != nil {
		return "", fmt.Errorf("chart %s: %w", c.ID, err)
	}
	return template.HTML(text), nil
}
