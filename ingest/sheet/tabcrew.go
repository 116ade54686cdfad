package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// ofCrew finds whose crew a tab or a title speaks of: Ray's crew, crew: Ray.
var ofCrew = patternOf(`\b([A-Z][\pL.-]*)(?:['’]s|s['’])?\s+(?:[Cc]rew|CREW|[Gg]ang|[Tt]eam)\b|\b(?:[Cc]rew|CREW|[Cc]uadrilla)(?:\s+of|\s+de|\s*:|\s*-)?\s+([A-Z][\pL.-]*)`)

// noCrew are words before "crew" that name none.
var noCrew = patternOf(`(?i)^(?:the|our|my|a|each|per|by|what|which|concrete|pour|work|tab|full|whole)$`)

// readCrewOfTab takes the crew from the name of a tab, or from the title above
// its rows, where no column says it: a tab a crew.
func (l *layout) readCrewOfTab(u *insight, g *grid) {
	k := l.table.Index("crew")
	if l.table != record.Placements || l.own[k] || g.sheet == nil {
		return
	}
	for _, p := range u.picks {
		if !p.sure && p.hypothesis != nil && p.name == "crew" {
			return
		}
	}
	texts := []string{g.name}
	for _, row := range g.rows[:g.head.first] {
		texts = append(texts, row.cells...)
	}
	for _, text := range texts {
		p := ofCrew.FindStringSubmatch(text)
		if p == nil {
			continue
		}
		if name := p[1] + p[2]; !noCrew.MatchString(name) {
			l.crewOfTab, l.given[k] = strings.TrimRight(name, ".-"), true
			return
		}
	}
}
