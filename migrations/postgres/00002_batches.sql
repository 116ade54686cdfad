-- +goose Up

-- One row per file taken in.
CREATE TABLE batches (
    batch_id       BIGINT NOT NULL PRIMARY KEY,
    file           TEXT NOT NULL,
    sha256         TEXT NOT NULL,
    tables         TEXT NOT NULL,
    taken_at       TEXT NOT NULL,
    rows_read      BIGINT NOT NULL,
    rows_new       BIGINT NOT NULL,
    rows_changed   BIGINT NOT NULL,
    rows_unchanged BIGINT NOT NULL,
    rows_set_aside BIGINT NOT NULL,
    warnings       BIGINT NOT NULL,
    undone_at      TEXT
);

-- Which batches stand on which: batch_id changed rows that on_batch had
-- written, or found them in its file just as on_batch had left them.
CREATE TABLE leans (
    batch_id BIGINT NOT NULL,
    on_batch BIGINT NOT NULL,
    PRIMARY KEY (batch_id, on_batch)
);

-- The change log: the values before and after each change, and those of rows
-- that taking a batch back removed, as JSON of column and canonical text.
CREATE TABLE changes (
    batch_id      BIGINT NOT NULL,
    change_no     BIGINT NOT NULL,
    table_name    TEXT NOT NULL,
    row_key       TEXT NOT NULL,
    did           TEXT NOT NULL,
    row_no        BIGINT NOT NULL,
    before_batch  BIGINT NOT NULL,
    before_row    BIGINT NOT NULL,
    before_values TEXT NOT NULL,
    after_values  TEXT NOT NULL,
    PRIMARY KEY (batch_id, change_no)
);

-- Kept bids, with the factors they stood on and the job that came of them.
CREATE TABLE bids (
    bid_id  BIGINT NOT NULL PRIMARY KEY,
    made_on TEXT NOT NULL,
    spec    TEXT NOT NULL,
    result  TEXT NOT NULL,
    factors TEXT NOT NULL,
    job_no  TEXT
);
