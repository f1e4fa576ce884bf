-- +goose Up
-- Today counts and lists the clocks in the house by stage.
CREATE INDEX clock_by_stage ON clock (removed, stage, touch);
