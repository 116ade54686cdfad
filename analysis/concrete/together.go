package concrete

import "pourback/analysis/stat/pool"

// Together is what is believed of the overages of several jobs, each with its
// use and method: what the records leave open about the model is the same for
// all of them. A base that is left open is the average of the bases, with what
// they differ by as a spread of the job's own.
func (m *Model) Together(jobs []Job) (pool.Joint, error) {
	rows, strangers := make([]pool.Row, len(jobs)), map[string]int{}
	for i, job := range jobs {
		if err := job.check(); err != nil {
			return pool.Joint{}, err
		}
		cells, total := m.like(job)
		r := pool.Row{X: make([]float64, m.columns()), H: 1 / job.NeatYd, Group: cells[0].use}
		for _, c := range cells {
			m.columnsOf(r.X, c, r.H, float64(c.n)/total)
		}
		if r.Group < 0 { // the same new word is the same new use
			if _, seen := strangers[job.Use]; !seen {
				strangers[job.Use] = -1 - len(strangers)
			}
			r.Group = strangers[job.Use]
			for _, p := range m.borrows[job.Use] {
				if p.Group == newWord {
					p.Group = r.Group
				}
				r.Parts = append(r.Parts, p)
			}
		}
		var err error
		if r.Var, err = m.between(cells, total, r.H); err != nil {
			return pool.Joint{}, err
		}
		rows[i] = r
	}
	return m.post.Together(rows)
}

// between is the variance between the levels of the cells that a job may be of,
// in the shares of their records, averaged over the grid.
func (m *Model) between(cells []overageCell, total, h float64) (float64, error) {
	if len(cells) == 1 {
		return 0, nil
	}
	n := len(m.post.Cells)
	mean, square := make([]float64, n), make([]float64, n)
	for _, c := range cells {
		x := make([]float64, m.columns())
		m.columnsOf(x, c, h, 1)
		law, err := m.post.Line(x, c.use)
		if err != nil {
			return 0, err
		}
		for k, loc := range law.Loc {
			mean[k] += float64(c.n) / total * loc
			square[k] += float64(c.n) / total * loc * loc
		}
	}
	sum := 0.0
	for k, c := range m.post.Cells {
		sum += c.Weight * max(0, square[k]-mean[k]*mean[k])
	}
	return sum, nil
}
