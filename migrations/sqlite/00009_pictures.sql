-- +goose Up

-- What is known of each picture that is kept with a placement, a load or a visit,
-- as a record table has it; and the pictures themselves apart, by the SHA-256 of
-- their bytes. Those of a picture that was purged are gone, and the row stays.

CREATE TABLE pictures (
    job_no        TEXT,
    placement     TEXT,
    picture       TEXT NOT NULL DEFAULT '',
    seen_on       TEXT,
    ticket_no     TEXT,
    file          TEXT,
    taken_at      TEXT,
    caption       TEXT,
    x_ft          REAL,
    y_ft          REAL,
    kept_at       TEXT,
    kept_by       TEXT,
    latitude      REAL,
    longitude     REAL,
    width_px      INTEGER,
    height_px     INTEGER,
    bytes         INTEGER,
    sha256        TEXT,
    taken_back_at TEXT,
    batch_id      INTEGER NOT NULL,
    row_no        INTEGER NOT NULL,
    digest        INTEGER NOT NULL,
    unused        TEXT,
    PRIMARY KEY (picture)
) STRICT;

CREATE INDEX pictures_of_job ON pictures (job_no);

CREATE TABLE picture_bytes (
    sha256       TEXT NOT NULL DEFAULT '',
    size         INTEGER NOT NULL,
    purged_at    TEXT,
    thumb_sha256 TEXT NOT NULL,
    thumb        BLOB NOT NULL,
    content      BLOB NOT NULL,
    PRIMARY KEY (sha256)
) STRICT;
