package sheet

import (
	"fmt"
	"strings"

	"pourback/ingest/record"
)

// looksLikeRecords says whether a grid that cannot be read as any table still
// looks like one: rows enough, and several columns that mean something.
func (u *insight) looksLikeRecords(rows int, lenient bool) bool {
	known := 0
	for _, p := range u.picks {
		if p.hypothesis != nil {
			known++
		}
	}
	if lenient && u.table == record.Placements {
		return rows >= 5 && known >= 4 && u.gain > 12
	}
	return rows >= 3 && known >= 4 && len(u.lacks) <= 2 && u.gain > 20
}

// doubtfulJobs says whether a list of jobs is more likely something else: no
// money, and no heading that speaks of a job.
func (u *insight) doubtfulJobs() bool {
	if u.table != record.Jobs {
		return false
	}
	for i, p := range u.picks {
		if p.hypothesis == nil {
			continue
		}
		if c := u.table.Column(p.name); c != nil && c.Kind == record.KindMoney {
			return false
		}
		if p.name == "job_no" && (speakOf(u.cols[i].senses, []string{"job"}) && u.cols[i].share(u.cols[i].streets) < 0.2) {
			return false
		}
	}
	return true
}

// wanting says what a grid lacks and what to do about it.
func (u *insight) wanting() (wrong, right string) {
	var asked []string
	for i, p := range u.picks {
		if !p.sure {
			asked = append(asked, fmt.Sprintf("%q", u.cols[i].heading))
		}
	}
	wrong = fmt.Sprintf("read as %s, but no column is surely its %s", u.table.Name, strings.Join(u.lacks, ", "))
	right = `say which column it is: --map "HEADING=` + ColumnName(u.table, u.lacks[0]) + `"`
	if len(asked) > 0 {
		right += "; doubtful are " + strings.Join(asked, ", ")
	}
	return wrong, right
}
