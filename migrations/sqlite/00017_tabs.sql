-- +goose Up

-- The tab of the workbook that rows set aside are from: empty where a file has no
-- tabs, unknown for what was set aside before this step.
ALTER TABLE set_aside ADD COLUMN tab TEXT;
