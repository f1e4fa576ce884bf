-- +goose Up
-- What was listened to. The SQL is that of 00001; BLOB is SQLite's word for
-- bytes, REAL for a float64.
CREATE TABLE listening (
  id           INTEGER PRIMARY KEY AUTOINCREMENT,
  uid          TEXT NOT NULL UNIQUE,
  clock_id     INTEGER REFERENCES clock (id),
  started      TEXT NOT NULL,
  started_how  TEXT NOT NULL,
  length       REAL NOT NULL,
  source       TEXT NOT NULL,
  path         TEXT NOT NULL,
  settings     TEXT NOT NULL,
  rate         REAL NOT NULL,
  sample_clock TEXT NOT NULL,
  verdict      TEXT NOT NULL,
  gist         TEXT NOT NULL,
  answer       TEXT NOT NULL,
  program      TEXT NOT NULL,
  note         TEXT NOT NULL,
  who          TEXT NOT NULL,
  audio        TEXT NOT NULL,
  beats        INTEGER NOT NULL,
  finished     INTEGER NOT NULL,
  saved        TEXT NOT NULL,
  removed      TEXT NOT NULL
) STRICT;
CREATE INDEX listening_by_clock ON listening (clock_id, id);
CREATE INDEX listening_unfinished ON listening (id) WHERE finished = 0;

CREATE TABLE listening_beats (
  listening_id INTEGER NOT NULL REFERENCES listening (id),
  part         INTEGER NOT NULL,
  beats        BLOB NOT NULL,
  PRIMARY KEY (listening_id, part)
) STRICT;

CREATE TABLE calibration (
  id      INTEGER PRIMARY KEY AUTOINCREMENT,
  device  TEXT NOT NULL,
  error   REAL NOT NULL,
  bound   REAL NOT NULL,
  how     TEXT NOT NULL,
  at      TEXT NOT NULL,
  length  REAL NOT NULL,
  who     TEXT NOT NULL
) STRICT;
CREATE INDEX calibration_by_device ON calibration (device, id);
