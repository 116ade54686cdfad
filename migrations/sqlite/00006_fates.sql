-- +goose Up

-- What became of a kept bid: won, lost, or void; NULL while nobody has said.
ALTER TABLE bids ADD COLUMN fate TEXT;
