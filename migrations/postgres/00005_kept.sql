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

-- Values that look impossible and that the owner has said are right.
ALTER TABLE jobs ADD COLUMN said_right TEXT;
ALTER TABLE placements ADD COLUMN said_right TEXT;

-- What headings mean in files of a record table, as somebody has answered: the
-- next file that has them is not asked about. An empty column is of no use. Those
-- of one header are how a file was understood whose rows were set aside.
CREATE TABLE heading_answers (
    answer_key  TEXT NOT NULL,
    table_name  TEXT NOT NULL,
    header      TEXT NOT NULL,
    sheet       TEXT NOT NULL,
    heading     TEXT NOT NULL,
    column_name TEXT NOT NULL,
    answered_at TEXT NOT NULL,
    PRIMARY KEY (answer_key)
);
