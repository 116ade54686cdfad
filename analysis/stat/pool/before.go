package pool

// Before is the model before any outcome is seen: the prior laid out on the
// grid, so that a company without records is answered by the same code.
func (m Model) Before() (*Posterior, error) {
	if err := m.check(len(m.Mean)); err != nil {
		return nil, err
	}
	m = m.clone()
	post := &Posterior{Nu: m.Nu, Model: m}
	post.Converged = true
	if err := post.solve([]*sums{newSums(len(m.Mean), 0)}, m.Mean); err != nil {
		return nil, err
	}
	return post, nil
}
