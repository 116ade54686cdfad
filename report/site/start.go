package site

import (
	"encoding/json"
	"net/http"
)

// startPage is how to begin: three ways in.
func startPage(a *Ask) error { return a.Show("start", a.Say.StartTitle(), nil) }

// Health is what /healthz says: who is here, and for which database. It is told
// apart by a digest; its place is nobody's business but this computer's.
type Health struct {
	Program    string `json:"program"`
	OK         bool   `json:"ok"`
	DatabaseID string `json:"database_id"`
	Database   string `json:"database,omitempty"`
	Lan        bool   `json:"lan,omitempty"` // phones reach it on the network
}

// ProgramName is what a site calls itself.
const ProgramName = "pourback"

// health says that the site is there and its database answers.
func health(a *Ask) error {
	_, err := a.Site.Store.Version(a.Context())
	h := Health{Program: ProgramName, OK: err == nil, DatabaseID: DatabaseID(a.Site.Database)}
	if a.Door.open() {
		h.Database, h.Lan = a.Site.Database, a.Site.Lan != nil
	}
	status := http.StatusOK
	if err != nil {
		status = http.StatusServiceUnavailable
	}
	a.W.Header().Set("Content-Type", "application/json")
	a.W.Header().Set("Cache-Control", "no-store")
	a.W.WriteHeader(status)
	return json.NewEncoder(a.W).Encode(h)
}

// DatabaseID tells databases apart.
func DatabaseID(database string) string { return tokenHash(database)[:16] }
