-- +goose Up

-- Columns that came after the first release. Rows stored before hold NULL there,
-- and their digests stay as they are.

ALTER TABLE jobs ADD COLUMN customer TEXT;
ALTER TABLE jobs ADD COLUMN change_orders INTEGER;
ALTER TABLE placements ADD COLUMN bar_spacing_in REAL;
ALTER TABLE placements ADD COLUMN edge_in REAL;
ALTER TABLE placements ADD COLUMN note TEXT;
ALTER TABLE placements ADD COLUMN customer TEXT;
ALTER TABLE placements ADD COLUMN change_orders INTEGER;
ALTER TABLE delays ADD COLUMN started_at TEXT;
ALTER TABLE visits ADD COLUMN spot_x REAL;
ALTER TABLE visits ADD COLUMN spot_y REAL;
