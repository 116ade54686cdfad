-- +goose Up

-- What is known of each picture that is kept with a placement, a load or a visit,
-- as a record table has it; and the pictures themselves apart, by the SHA-256 of
-- their bytes. Those of a picture that was purged are gone, and the row stays.

CREATE TABLE pictures (
    job_no        TEXT,
    placement     TEXT,
    picture       TEXT COLLATE "C" NOT NULL DEFAULT '',
    seen_on       TEXT,
    ticket_no     TEXT,
    file          TEXT,
    taken_at      TEXT,
    caption       TEXT,
    x_ft          DOUBLE PRECISION,
    y_ft          DOUBLE PRECISION,
    kept_at       TEXT,
    kept_by       TEXT,
    latitude      DOUBLE PRECISION,
    longitude     DOUBLE PRECISION,
    width_px      BIGINT,
    height_px     BIGINT,
    bytes         BIGINT,
    sha256        TEXT,
    taken_back_at TEXT,
    batch_id      BIGINT NOT NULL,
    row_no        BIGINT NOT NULL,
    digest        BIGINT NOT NULL,
    unused        TEXT,
    PRIMARY KEY (picture)
);

CREATE INDEX pictures_of_job ON pictures (job_no);

CREATE TABLE picture_bytes (
    sha256       TEXT COLLATE "C" NOT NULL DEFAULT '',
    size         BIGINT NOT NULL,
    purged_at    TEXT,
    thumb_sha256 TEXT NOT NULL,
    thumb        BYTEA NOT NULL,
    content      BYTEA NOT NULL,
    PRIMARY KEY (sha256)
);
