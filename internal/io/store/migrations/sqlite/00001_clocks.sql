-- +goose Up
-- The book of clocks. Every text is as typed; '' is nothing. Instants are
-- RFC 3339 in UTC with milliseconds, '' for none. STRICT is SQLite's own; the
-- rest is the SQL that PostgreSQL shares.
PRAGMA application_id = 1398030916; -- "STBD"

CREATE TABLE counter (
  name  TEXT PRIMARY KEY,
  value INTEGER NOT NULL
) STRICT;
INSERT INTO counter (name, value) VALUES ('touch', 0);

CREATE TABLE clock (
  id                 INTEGER PRIMARY KEY AUTOINCREMENT,
  uid                TEXT NOT NULL UNIQUE,
  version            INTEGER NOT NULL,
  touch              INTEGER NOT NULL,
  number             TEXT NOT NULL,
  number_key         TEXT NOT NULL UNIQUE,
  title              TEXT NOT NULL,
  stage              TEXT NOT NULL,
  promise            TEXT NOT NULL,
  promise_day        TEXT NOT NULL,
  invented           INTEGER NOT NULL,
  owner_name         TEXT NOT NULL,
  owner_contact      TEXT NOT NULL,
  owner_note         TEXT NOT NULL,
  object_type        TEXT NOT NULL,
  object_materials   TEXT NOT NULL,
  object_measurements TEXT NOT NULL,
  object_inscriptions TEXT NOT NULL,
  made_text          TEXT NOT NULL,
  made_from          TEXT NOT NULL,
  made_to            TEXT NOT NULL,
  made_certainty     TEXT NOT NULL,
  maker_as_read      TEXT NOT NULL,
  maker_attributed   TEXT NOT NULL,
  maker_role         TEXT NOT NULL,
  object_subject     TEXT NOT NULL,
  object_title       TEXT NOT NULL,
  object_features    TEXT NOT NULL,
  object_description TEXT NOT NULL,
  object_inventory   TEXT NOT NULL,
  object_writings    TEXT NOT NULL,
  object_place       TEXT NOT NULL,
  object_related     TEXT NOT NULL,
  object_documented  TEXT NOT NULL,
  created            TEXT NOT NULL,
  touched            TEXT NOT NULL,
  removed            TEXT NOT NULL
) STRICT;
CREATE INDEX clock_standing ON clock (removed, touch);
CREATE INDEX clock_by_promise ON clock (removed, promise_day, touch) WHERE promise_day <> '';

CREATE TABLE holder (
  clock_id INTEGER NOT NULL REFERENCES clock (id),
  n        INTEGER NOT NULL,
  place    INTEGER NOT NULL,
  name     TEXT NOT NULL,
  from_when TEXT NOT NULL,
  to_when  TEXT NOT NULL,
  how      TEXT NOT NULL,
  removed  TEXT NOT NULL,
  PRIMARY KEY (clock_id, n)
) STRICT;

CREATE TABLE piece (
  clock_id INTEGER NOT NULL REFERENCES clock (id),
  n        INTEGER NOT NULL,
  place    INTEGER NOT NULL,
  what     TEXT NOT NULL,
  how_many TEXT NOT NULL,
  note     TEXT NOT NULL,
  received INTEGER NOT NULL,
  removed  TEXT NOT NULL,
  PRIMARY KEY (clock_id, n)
) STRICT;

CREATE TABLE survey_part (
  clock_id INTEGER NOT NULL REFERENCES clock (id),
  part     TEXT NOT NULL,
  version  INTEGER NOT NULL,
  typed    TEXT NOT NULL,
  saved    TEXT NOT NULL,
  removed  TEXT NOT NULL,
  PRIMARY KEY (clock_id, part)
) STRICT;

CREATE TABLE change (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  clock_id INTEGER NOT NULL REFERENCES clock (id),
  at       TEXT NOT NULL,
  who      TEXT NOT NULL,
  record   TEXT NOT NULL,
  field    TEXT NOT NULL,
  before   TEXT NOT NULL,
  after    TEXT NOT NULL
) STRICT;
CREATE INDEX change_by_clock ON change (clock_id, id);

-- In the order of touching, so that a search finds the page it shows first.
CREATE TABLE clock_search (
  touch    INTEGER PRIMARY KEY,
  clock_id INTEGER NOT NULL UNIQUE REFERENCES clock (id),
  folded   TEXT NOT NULL
) STRICT;
