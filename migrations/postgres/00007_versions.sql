-- +goose Up

-- A revised bid is kept as a version of the first one, beside those before it: no
-- two have the same number. fate_on is the day on which its fate was said; NULL
-- where that was before days were kept.
ALTER TABLE bids ADD COLUMN fate_on TEXT;
ALTER TABLE bids ADD COLUMN version BIGINT NOT NULL DEFAULT 1;
ALTER TABLE bids ADD COLUMN revises BIGINT;
ALTER TABLE bids ADD COLUMN first_bid BIGINT;
CREATE UNIQUE INDEX bids_versions ON bids (first_bid, version);

-- What was said of kept bids, and when: nothing is ever changed or taken out.
CREATE TABLE bid_log (
    log_no       BIGINT NOT NULL PRIMARY KEY,
    bid_id       BIGINT NOT NULL,
    said_on      TEXT NOT NULL,
    did          TEXT NOT NULL,
    before_value TEXT NOT NULL,
    after_value  TEXT NOT NULL
);
