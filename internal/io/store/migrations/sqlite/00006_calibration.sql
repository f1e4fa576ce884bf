-- +goose Up
-- What a recorder was held against, and how warm it was.
ALTER TABLE calibration ADD COLUMN against TEXT NOT NULL DEFAULT '';
ALTER TABLE calibration ADD COLUMN temperature TEXT NOT NULL DEFAULT '';
