-- +goose Up

-- Columns that came after the first release. Rows stored before hold NULL there,
-- and their digests stay as they are.

ALTER TABLE jobs ADD COLUMN customer TEXT;
ALTER TABLE jobs ADD COLUMN change_orders BIGINT;
ALTER TABLE placements ADD COLUMN bar_spacing_in DOUBLE PRECISION;
ALTER TABLE placements ADD COLUMN edge_in DOUBLE PRECISION;
ALTER TABLE placements ADD COLUMN note TEXT;
ALTER TABLE placements ADD COLUMN customer TEXT;
ALTER TABLE placements ADD COLUMN change_orders BIGINT;
ALTER TABLE delays ADD COLUMN started_at TEXT;
ALTER TABLE visits ADD COLUMN spot_x DOUBLE PRECISION;
ALTER TABLE visits ADD COLUMN spot_y DOUBLE PRECISION;
