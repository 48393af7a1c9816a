-- How the file and the changes written beside it belong together: each time changes are begun beside a file that stood
-- whole, the file gets a new mark, and the changes carry it with the one from before.
CREATE TABLE rest (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    before TEXT NOT NULL,
    mark TEXT NOT NULL
) STRICT;
INSERT INTO rest (one, before, mark) VALUES (1, '', lower(hex(randomblob(16))));
