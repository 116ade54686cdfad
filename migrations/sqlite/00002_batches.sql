-- +goose Up

-- One row per file taken in.
CREATE TABLE batches (
    batch_id       INTEGER NOT NULL PRIMARY KEY,
    file           TEXT NOT NULL,
    sha256         TEXT NOT NULL,
    tables         TEXT NOT NULL,
    taken_at       TEXT NOT NULL,
    rows_read      INTEGER NOT NULL,
    rows_new       INTEGER NOT NULL,
    rows_changed   INTEGER NOT NULL,
    rows_unchanged INTEGER NOT NULL,
    rows_set_aside INTEGER NOT NULL,
    warnings       INTEGER NOT NULL,
    undone_at      TEXT
) STRICT;

-- Which batches stand on which: batch_id changed rows that on_batch had
-- written, or found them in its file just as on_batch had left them.
CREATE TABLE leans (
    batch_id INTEGER NOT NULL,
    on_batch INTEGER NOT NULL,
    PRIMARY KEY (batch_id, on_batch)
) STRICT;

-- The change log: the values before and after each change, and those of rows
-- that taking a batch back removed, as JSON of column and canonical text.
CREATE TABLE changes (
    batch_id      INTEGER NOT NULL,
    change_no     INTEGER NOT NULL,
    table_name    TEXT NOT NULL,
    row_key       TEXT NOT NULL,
    did           TEXT NOT NULL,
    row_no        INTEGER NOT NULL,
    before_batch  INTEGER NOT NULL,
    before_row    INTEGER NOT NULL,
    before_values TEXT NOT NULL,
    after_values  TEXT NOT NULL,
    PRIMARY KEY (batch_id, change_no)
) STRICT;

-- Kept bids, with the factors they stood on and the job that came of them.
CREATE TABLE bids (
    bid_id  INTEGER NOT NULL PRIMARY KEY,
    made_on TEXT NOT NULL,
    spec    TEXT NOT NULL,
    result  TEXT NOT NULL,
    factors TEXT NOT NULL,
    job_no  TEXT
) STRICT;
