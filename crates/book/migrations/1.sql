-- A clock on the bench, and the sheet that its log rests on, as text.
CREATE TABLE job (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    sheet TEXT NOT NULL
) STRICT;

-- The lines of all logs, without their ends. `sequence` runs over the whole book and gives the order in which it was
-- written; `n` runs over one log, where 0 is the line that a log begins with and n the entry numbered n.
CREATE TABLE line (
    sequence INTEGER PRIMARY KEY,
    job INTEGER NOT NULL REFERENCES job (id),
    n INTEGER NOT NULL,
    text TEXT NOT NULL,
    UNIQUE (job, n)
) STRICT;

CREATE TRIGGER line_follows BEFORE INSERT ON line
WHEN NEW.n <> (SELECT coalesce(max(n) + 1, 0) FROM line WHERE job = NEW.job)
    OR EXISTS (SELECT 1 FROM line WHERE sequence = NEW.sequence)
BEGIN
    SELECT raise(ABORT, 'a line follows the last one');
END;

CREATE TRIGGER line_stays BEFORE UPDATE ON line
BEGIN
    SELECT raise(ABORT, 'a line is never changed');
END;

CREATE TRIGGER line_is_kept BEFORE DELETE ON line
BEGIN
    SELECT raise(ABORT, 'a line is never struck out');
END;

-- How a job is looked at.
CREATE TABLE view (
    job INTEGER PRIMARY KEY REFERENCES job (id),
    plate TEXT NOT NULL,
    upside_down INTEGER NOT NULL CHECK (upside_down IN (0, 1))
) STRICT;

-- The job that is being worked on: one row at most.
CREATE TABLE current (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    job INTEGER NOT NULL REFERENCES job (id)
) STRICT;
