package store

import (
	"database/sql"

	"github.com/lib/pq"
)

// openPostgres reads the address before an error can repeat it.
func openPostgres(dsn string, _ Options) (*sql.DB, error) {
	cfg, err := serverConfig(dsn)
	if err != nil {
		return nil, err
	}
	connector, err := pq.NewConnectorConfig(cfg)
	if err != nil {
		return nil, err
	}
	return sql.OpenDB(connector), nil
}
