-- The words of all lines once more, each by its stem, so that kin are found: bush and bushing, oil and oiled.
ALTER TABLE words RENAME TO words_as_written;
CREATE VIRTUAL TABLE words USING fts5(said, tokenize = 'porter unicode61 remove_diacritics 2', prefix = '3');
INSERT INTO words (rowid, said) SELECT rowid, said FROM words_as_written;
DROP TABLE words_as_written;
-- What is struck out of it leaves no trace.
INSERT INTO words (words, rank) VALUES ('secure-delete', 1);
