-- +goose Up
-- Logs that only grow: the take-down ledger, batches, hours, stores. What is
-- true now is worked out from the entries; none is changed or taken out.
CREATE TABLE log (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  book     TEXT NOT NULL,
  name     TEXT NOT NULL,
  clock_id INTEGER REFERENCES clock (id),
  running  INTEGER NOT NULL,
  entries  INTEGER NOT NULL,
  touched  TEXT NOT NULL,
  UNIQUE (book, name)
) STRICT;
CREATE INDEX log_by_clock ON log (clock_id, book);
CREATE INDEX log_running ON log (book, id) WHERE running = 1;

CREATE TABLE log_entry (
  log_id INTEGER NOT NULL REFERENCES log (id),
  n      INTEGER NOT NULL,
  at     TEXT NOT NULL,
  who    TEXT NOT NULL,
  entry  TEXT NOT NULL,
  PRIMARY KEY (log_id, n)
) STRICT;
