package sheet

import (
	"runtime"
	"sync"
)

// pipeline moves blocks from the cutter through the readers to the one who asks
// for rows.
type pipeline struct {
	free, work, ordered chan *block
	stop                chan struct{}
	hands               sync.WaitGroup
}

// startPipeline sets the hands to work.
func (t *Table) startPipeline(c *cutter) *pipeline {
	readers := max(1, runtime.GOMAXPROCS(0))
	blocks := readers + 3
	p := &pipeline{make(chan *block, blocks), make(chan *block, blocks), make(chan *block, blocks), make(chan struct{}), sync.WaitGroup{}}
	for range blocks {
		p.free <- &block{done: make(chan struct{}, 1)}
	}
	p.hands.Go(func() { p.cut(c, t) })
	for range readers {
		r := newBlockReader(t)
		p.hands.Go(func() {
			for b := range p.work {
				r.readBlock(b)
				b.done <- struct{}{}
			}
		})
	}
	return p
}

// cut hands out blocks until the file ends, or until nobody wants more.
func (p *pipeline) cut(c *cutter, t *Table) {
	defer close(p.work)
	defer close(p.ordered)
	for number := t.csv.rows; ; {
		select {
		case <-p.stop:
			return
		case b := <-p.free:
			if !c.next(b) {
				return
			}
			number = t.mendBlock(b, number)
			last := b.err != nil // others write to the block from here on
			p.work <- b
			p.ordered <- b
			if last {
				return
			}
		}
	}
}

// close ends the work and waits for every hand to be still.
func (p *pipeline) close() {
	close(p.stop)
	p.hands.Wait()
}

// readCSV yields the rows of a CSV file.
func (t *Table) readCSV(yield func([]*Row, error) bool) {
	c, err := t.newCutter()
	if err != nil {
		yield(nil, err)
		return
	}
	p := t.startPipeline(c)
	defer p.close()
	d := newDelivery(t)
	d.line = t.csv.rows
	for b := range p.ordered {
		<-b.done
		if !d.block(b, yield) {
			return
		}
		if t.file.opt.Progress != nil {
			t.file.opt.Progress(b.read, t.file.size)
		}
		p.free <- b
	}
	d.end()
	if t.file.digest == nil {
		t.file.digest = (*[32]byte)(c.raw.digest.Sum(nil))
	}
}
