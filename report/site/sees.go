package site

// sees says whether who asks may see and write what is a crew's.
func (a *Ask) sees(crew string) bool { return true }

// crew is the crew whose user asks, "" where that is no crew's.
func (a *Ask) crew() string { return "" }
