-- +goose Up

-- The rows of a batch's file that were set aside, as the file for them has
-- them: one entry for each table of the file. Content is CSV, compressed with
-- gzip; where there were very many it holds the first of them.
CREATE TABLE set_aside (
    batch_id   BIGINT NOT NULL,
    part_no    BIGINT NOT NULL,
    table_name TEXT NOT NULL,
    rows_total BIGINT NOT NULL,
    rows_kept  BIGINT NOT NULL,
    content    BYTEA NOT NULL,
    PRIMARY KEY (batch_id, part_no)
);
