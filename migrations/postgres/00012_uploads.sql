-- +goose Up

-- Files that were handed to the site and are looked at before they are kept or
-- dropped. State is what was said about one meanwhile, as JSON, and is another
-- one with each version. One that is not whole has not all its parts yet.
CREATE TABLE uploads (
    upload_id  TEXT NOT NULL PRIMARY KEY,
    who        TEXT NOT NULL,
    file       TEXT NOT NULL,
    sha256     TEXT NOT NULL,
    bytes      BIGINT NOT NULL,
    whole      SMALLINT NOT NULL,
    of_batch   BIGINT NOT NULL,
    made_at    TEXT NOT NULL,
    touched_at TEXT NOT NULL,
    version    BIGINT NOT NULL,
    state      TEXT NOT NULL
);

-- Their content, in parts of one length but the last, each compressed with gzip.
CREATE TABLE upload_parts (
    upload_id TEXT NOT NULL,
    part_no   BIGINT NOT NULL,
    content   BYTEA NOT NULL,
    PRIMARY KEY (upload_id, part_no)
);

-- Who took a batch in and who took it back, where that was on the site, and the
-- batch whose rows set aside it brings in.
ALTER TABLE batches ADD COLUMN who TEXT;
ALTER TABLE batches ADD COLUMN undone_by TEXT;
ALTER TABLE batches ADD COLUMN of_batch BIGINT;

-- What became of one record.
CREATE INDEX changes_by_row ON changes (table_name, row_key);
