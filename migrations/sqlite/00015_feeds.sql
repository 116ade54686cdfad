-- +goose Up

-- The secret address of the calendar of visits, by the SHA-256 of its token: one
-- at a time, the latest.
CREATE TABLE feeds (
    token_hash TEXT NOT NULL PRIMARY KEY,
    made_at    TEXT NOT NULL,
    made_by    TEXT NOT NULL
) STRICT;
