-- +goose Up

-- A crew whose pours alone somebody of the role crew sees; NULL is any crew's.
ALTER TABLE users ADD COLUMN crew TEXT;

-- A crew's phone has no password: it was let in by a code that it read once.
ALTER TABLE users ADD COLUMN phone INTEGER NOT NULL DEFAULT 0;

ALTER TABLE invitations ADD COLUMN crew TEXT;
ALTER TABLE invitations ADD COLUMN phone INTEGER NOT NULL DEFAULT 0;

-- When a phone was last heard of, to some minutes; NULL where nobody notes it.
ALTER TABLE sessions ADD COLUMN seen_at TEXT;
