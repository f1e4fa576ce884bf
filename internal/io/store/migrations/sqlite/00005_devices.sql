-- +goose Up
-- Phones and other computers that were let in. Of a key its SHA-256 is kept.
CREATE TABLE device (
  id      INTEGER PRIMARY KEY AUTOINCREMENT,
  name    TEXT NOT NULL,
  key     TEXT NOT NULL UNIQUE,
  root    TEXT NOT NULL,
  paired  TEXT NOT NULL,
  seen    TEXT NOT NULL,
  revoked TEXT,
  who     TEXT NOT NULL
) STRICT;
