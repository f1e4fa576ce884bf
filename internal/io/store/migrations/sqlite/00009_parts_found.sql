-- +goose Up
-- Parts as they stand, to be found by name and place, the one written of last
-- with the greatest id. All of it follows from the take-down ledgers.
CREATE TABLE part_line (
  id     INTEGER PRIMARY KEY,
  folded TEXT NOT NULL UNIQUE
) STRICT;

CREATE TABLE part_search (
  id       INTEGER PRIMARY KEY,
  clock_id INTEGER NOT NULL REFERENCES clock (id),
  number   TEXT NOT NULL,
  line_id  INTEGER NOT NULL REFERENCES part_line (id),
  name     TEXT NOT NULL,
  place    TEXT NOT NULL,
  state    TEXT NOT NULL,
  pieces   INTEGER NOT NULL,
  UNIQUE (clock_id, number)
) STRICT;
CREATE INDEX part_by_place ON part_search (place, id) WHERE place <> '';
CREATE INDEX part_by_line ON part_search (line_id, id, clock_id);

-- Clocks whose ledger was not yet read into part_search.
CREATE TABLE part_unread (
  clock_id INTEGER PRIMARY KEY REFERENCES clock (id)
) STRICT;
INSERT INTO part_unread (clock_id) SELECT clock_id FROM log WHERE book = 'parts' AND clock_id IS NOT NULL;
