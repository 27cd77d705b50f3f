-- One row is one record. Nothing is ever changed or removed: the triggers hold that for every
-- program that opens the file, not only for ours.
CREATE TABLE record (
    sequence INTEGER PRIMARY KEY CHECK (sequence > 0),
    id       BLOB    NOT NULL UNIQUE CHECK (length(id) = 16),
    happened TEXT    NOT NULL,
    written  TEXT    NOT NULL,
    who      TEXT    NOT NULL,
    batch    BLOB    CHECK (length(batch) = 16),
    file     TEXT,
    line     INTEGER,
    version  INTEGER NOT NULL CHECK (version > 0),
    body     TEXT    NOT NULL,
    CHECK ((file IS NULL) = (line IS NULL))
) STRICT;

CREATE TRIGGER record_is_never_changed BEFORE UPDATE ON record
BEGIN SELECT RAISE(ABORT, 'a record is never changed: append a correction'); END;

CREATE TRIGGER record_is_never_removed BEFORE DELETE ON record
BEGIN SELECT RAISE(ABORT, 'a record is never removed: append a retraction'); END;
