-- +goose Up
-- Today lists the clocks in the house by stage.
CREATE INDEX clock_stage ON clock (stage, touch) WHERE removed = '';
