-- What follows from a job's log, kept beside it so that a list needs no log: where its last line stands, how many entries
-- there are, what the clock is called, the stage it is at, whether it went home, and the sheet as it is known by now, if
-- that is another than the one it began with.
ALTER TABLE job ADD COLUMN last INTEGER NOT NULL DEFAULT 0;
ALTER TABLE job ADD COLUMN entries INTEGER NOT NULL DEFAULT 0;
ALTER TABLE job ADD COLUMN clock TEXT;
ALTER TABLE job ADD COLUMN stage TEXT NOT NULL DEFAULT 'in';
ALTER TABLE job ADD COLUMN home INTEGER NOT NULL DEFAULT 0 CHECK (home IN (0, 1));
ALTER TABLE job ADD COLUMN sheet_now TEXT;
CREATE INDEX job_by_last ON job (last);
CREATE INDEX job_on_the_bench ON job (last) WHERE home = 0;

-- Lines that are being emptied by a removal, while it is at work; empty at any other time.
CREATE TABLE emptying (
    job INTEGER NOT NULL,
    n INTEGER NOT NULL,
    PRIMARY KEY (job, n)
) STRICT, WITHOUT ROWID;

DROP TRIGGER line_stays;
CREATE TRIGGER line_stays BEFORE UPDATE ON line
WHEN (NEW.sequence, NEW.job, NEW.n) IS NOT (OLD.sequence, OLD.job, OLD.n)
    OR NOT EXISTS (SELECT 1 FROM emptying WHERE job = OLD.job AND n = OLD.n)
BEGIN
    SELECT raise(ABORT, 'a line is never changed');
END;

-- The pictures, which lie as files beside the book.
CREATE TABLE blob (
    digest TEXT PRIMARY KEY,
    form TEXT NOT NULL,
    bytes INTEGER NOT NULL,
    width INTEGER NOT NULL,
    height INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- Which line shows which picture.
CREATE TABLE shown (
    sequence INTEGER PRIMARY KEY REFERENCES line (sequence),
    digest TEXT NOT NULL REFERENCES blob (digest)
) STRICT;
CREATE INDEX shown_by_digest ON shown (digest);

-- The lines of all removals, and whether each was carried through to the pictures' files and the backups.
CREATE TABLE removal (
    sequence INTEGER PRIMARY KEY REFERENCES line (sequence),
    swept INTEGER NOT NULL CHECK (swept IN (0, 1))
) STRICT;

-- Pictures whose files are still to go.
CREATE TABLE unswept (
    digest TEXT PRIMARY KEY,
    form TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- What the shop has settled for all its jobs, as text, by name.
CREATE TABLE setting (
    name TEXT PRIMARY KEY,
    text TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- All words of all lines, by `sequence`; with the line that a log begins with stand the job's name and its first sheet.
CREATE VIRTUAL TABLE words USING fts5(said, tokenize = 'unicode61 remove_diacritics 2', prefix = '3');
-- What is struck out of it leaves no trace.
INSERT INTO words (words, rank) VALUES ('secure-delete', 1);
