-- A digest a line, each over the one before it, in order of writing: what it is made of is told in ARCHITECTURE.md. It names
-- the line by its job and its number too, so that a line that is missing is known by name.
CREATE TABLE chain (
    sequence INTEGER PRIMARY KEY,
    job INTEGER NOT NULL,
    n INTEGER NOT NULL,
    link BLOB NOT NULL
) STRICT;

-- Where the chain ends: how many links it has, the last of them, and how many of the first are of lines that stood in the
-- book before it kept digests, or came by an import: they are held to be as they were found on that day. One row.
CREATE TABLE chain_end (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    links INTEGER NOT NULL,
    link BLOB NOT NULL,
    found INTEGER NOT NULL
) STRICT;

-- What stands beside the lines, a sum for each of these tables: the digests of its rows, laid over each other bit by bit, so
-- that a row comes and goes by itself.
CREATE TABLE aside (
    name TEXT PRIMARY KEY,
    sum BLOB NOT NULL
) STRICT, WITHOUT ROWID;

-- The digest of a picture's preview, once one was made.
ALTER TABLE blob ADD COLUMN preview TEXT;
