-- +goose Up
-- The photograph that stands for a clock, where one was chosen.
CREATE TABLE main_photo (
  clock_id INTEGER PRIMARY KEY REFERENCES clock (id),
  photo_id INTEGER NOT NULL REFERENCES photo (id)
) STRICT;
-- Those under which nothing is written yet.
CREATE INDEX photo_unwritten ON photo (clock_id, id) WHERE caption = '' AND removed = '';
CREATE INDEX photo_same_view ON photo (same_view) WHERE same_view <> '';
