-- +goose Up

-- What stood in columns of no use, as JSON of heading and text as written; NULL
-- where there was nothing.

ALTER TABLE jobs ADD COLUMN unused TEXT;
ALTER TABLE placements ADD COLUMN unused TEXT;
ALTER TABLE loads ADD COLUMN unused TEXT;
ALTER TABLE delays ADD COLUMN unused TEXT;
ALTER TABLE labor ADD COLUMN unused TEXT;
ALTER TABLE costs ADD COLUMN unused TEXT;
ALTER TABLE visits ADD COLUMN unused TEXT;

-- What headings mean, as somebody has answered: the next file that has them is
-- not asked about. What column is empty for is of no use.
CREATE TABLE heading_answers (
    heading_key TEXT NOT NULL,
    sheet       TEXT NOT NULL,
    heading     TEXT NOT NULL,
    means       TEXT NOT NULL,
    answered_at TEXT NOT NULL,
    PRIMARY KEY (heading_key)
);

-- Values that cannot be, which the owner has said are right: they count as they
-- are for as long as they are recorded just so.
CREATE TABLE confirmed (
    job_no       TEXT NOT NULL,
    placement    TEXT NOT NULL,
    column_name  TEXT NOT NULL,
    value        TEXT NOT NULL,
    why          TEXT NOT NULL,
    confirmed_at TEXT NOT NULL,
    PRIMARY KEY (job_no, placement, column_name)
);
