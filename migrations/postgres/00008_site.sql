-- +goose Up

-- Who may use the local web site. Moments are ISO 8601 text in UTC.
CREATE TABLE users (
    user_id  BIGINT NOT NULL PRIMARY KEY,
    name     TEXT NOT NULL,
    name_key TEXT NOT NULL,
    role     TEXT NOT NULL,
    password TEXT NOT NULL,
    made_at  TEXT NOT NULL
);

CREATE UNIQUE INDEX users_by_name ON users (name_key);

-- Open sessions, by the SHA-256 of the token that the browser holds.
CREATE TABLE sessions (
    token_hash TEXT NOT NULL PRIMARY KEY,
    user_id    BIGINT NOT NULL,
    browser    TEXT NOT NULL,
    made_at    TEXT NOT NULL,
    expires_at TEXT NOT NULL
);

-- Links that let somebody in once, by the SHA-256 of their token. Where user_id
-- is not NULL the link sets that user's password anew.
CREATE TABLE invitations (
    token_hash TEXT NOT NULL PRIMARY KEY,
    user_id    BIGINT,
    name       TEXT NOT NULL,
    role       TEXT NOT NULL,
    made_at    TEXT NOT NULL,
    expires_at TEXT NOT NULL
);

-- The keys of forms that were sent, with what came of each, written with it: a
-- form that arrives again does nothing again.
CREATE TABLE form_keys (
    form_key TEXT NOT NULL PRIMARY KEY,
    who      TEXT NOT NULL,
    what     TEXT NOT NULL,
    body     TEXT NOT NULL,
    did      TEXT NOT NULL,
    done_at  TEXT NOT NULL
);

-- Who did what on the site, written with it.
CREATE TABLE site_log (
    entry_no BIGINT NOT NULL PRIMARY KEY,
    done_at  TEXT NOT NULL,
    who      TEXT NOT NULL,
    what     TEXT NOT NULL,
    did      TEXT NOT NULL
);
