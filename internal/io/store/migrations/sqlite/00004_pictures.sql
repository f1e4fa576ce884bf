-- +goose Up
-- Photographs. The files lie in files/ under their SHA-256; small pictures
-- are made of them and are no part of the records.
CREATE TABLE photo (
  id          INTEGER PRIMARY KEY AUTOINCREMENT,
  uid         TEXT NOT NULL UNIQUE,
  version     INTEGER NOT NULL,
  sha256      TEXT NOT NULL,
  size_bytes  INTEGER NOT NULL,
  kind        TEXT NOT NULL,
  name        TEXT NOT NULL,
  width_px    INTEGER NOT NULL,
  height_px   INTEGER NOT NULL,
  orientation INTEGER NOT NULL,
  taken       TEXT NOT NULL,
  small       TEXT NOT NULL,
  why         TEXT NOT NULL,
  received    TEXT NOT NULL,
  who         TEXT NOT NULL,
  clock_id    INTEGER REFERENCES clock (id),
  area        TEXT NOT NULL,
  stage       TEXT NOT NULL,
  caption     TEXT NOT NULL,
  same_view   TEXT NOT NULL,
  marks       TEXT NOT NULL,
  removed     TEXT NOT NULL
) STRICT;
CREATE INDEX photo_by_clock ON photo (clock_id, removed, id);
CREATE INDEX photo_by_content ON photo (sha256);
CREATE INDEX photo_waiting ON photo (id) WHERE small = 'waiting';

CREATE TABLE photo_part (
  photo_id INTEGER NOT NULL REFERENCES photo (id),
  part     TEXT NOT NULL,
  PRIMARY KEY (photo_id, part)
) STRICT;
CREATE INDEX photo_part_by_part ON photo_part (part, photo_id);
