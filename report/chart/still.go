package chart

import (
	"fmt"
	"html/template"
	"runtime"
	"sync"
	"time"

	"github.com/dop251/goja"
)

// stillWidth is how wide charts are drawn for readers without script, in CSS
// pixels. One drawing serves them all: a phone shows it a little smaller, paper
// and a desk a little larger.
const stillWidth = 400

// drafter draws charts as text, by the same library that draws them live. It
// serves one caller at a time. What it draws depends on the chart alone.
type drafter struct {
	draw func(option, name string, width, height int) (string, error)
}

// program is the drawing library with our own scripts, compiled once.
var program = sync.OnceValues(Compiled)

func Compiled() ([]*goja.Program, error) {
	lib, err := Library()
	if err != nil {
		return nil, err
	}
	var all []*goja.Program
	for _, part := range []struct{ name, text string }{
		{"host.js", "function setTimeout() { return 0; } function clearTimeout() {}"}, // the library asks for them and needs no more
		{LibraryName, lib}, {"chart.js", ChartScript}, {"still.js", stillScript},
	} {
		p, err := goja.Compile(part.name, part.text, false)
		if err != nil {
			return nil, fmt.Errorf("drawing library: %w", err)
		}
		all = append(all, p)
	}
	return all, nil
}

func newDrafter() (*drafter, error) {
	all, err := program()
	if err != nil {
		return nil, err
	}
	return Started(all)
}

// Started runs the scripts in a machine of their own.
func Started(all []*goja.Program) (*drafter, error) {
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

// Spare keeps drafters between reports.
var Spare = make(chan *drafter, 2)

// Warm begins to load the drawing library, which takes a fifth of a second, so
// that it is ready once there is something to draw.
func Warm() {
	go func() {
		if d, err := takeDrafter(); err == nil { // an error is told where charts are drawn
			giveBack(d)
		}
	}()
}

func takeDrafter() (*drafter, error) {
	select {
	case d := <-Spare:
		return d, nil
	default:
		return newDrafter()
	}
}

func giveBack(d *drafter) {
	select {
	case Spare <- d:
	default:
	}
}

// Rendered is a chart as a page holds it.
type Rendered struct {
	Option template.JS // JSON in which < is escaped
	Still  template.HTML
	Err    error
}

// DrawAll draws charts. One that cannot be drawn holds the error; the others are
// drawn all the same.
func DrawAll(todo []*Chart) map[*Chart]*Rendered {
	all := make(map[*Chart]*Rendered, len(todo))
	for _, c := range todo {
		all[c] = &Rendered{}
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
				if *all[c] = (Rendered{Err: err}); err == nil {
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

// chart draws a chart. The text is markup of our own making: elements and
// attributes by list, everything else escaped.
func (d *drafter) chart(c *Chart) Rendered {
	option, err := c.Option()
	if err != nil {
		return Rendered{Err: err}
	}
	text, err := d.draw(string(option), c.ID, stillWidth, c.Height)
	if err != nil {
		return Rendered{Err: fmt.Errorf("chart %s: %w", c.ID, err)}
	}
	return Rendered{template.JS(option), template.HTML(text), nil}
}
