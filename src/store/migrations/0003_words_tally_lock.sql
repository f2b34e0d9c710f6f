-- What is derived from the rest, what the book is called among books, and the lock that keeps rows as they were written.

-- A name of its own, so that the same book is not taken in twice; holds: books that were taken in.
CREATE TABLE identity (name TEXT NOT NULL) STRICT;
INSERT INTO identity (name) VALUES (lower(hex(randomblob(16))));
CREATE TABLE holds (name TEXT NOT NULL PRIMARY KEY) STRICT, WITHOUT ROWID;

-- Words by which riders and bikes are found; derived, rebuilt whenever a name or fact is written.
CREATE TABLE word (
    kind TEXT NOT NULL CHECK (kind IN ('rider', 'bike')),
    word TEXT NOT NULL,
    subject INTEGER NOT NULL,
    weight INTEGER NOT NULL,
    PRIMARY KEY (kind, word, subject)
) STRICT, WITHOUT ROWID;
CREATE INDEX word_subject ON word (kind, subject);

-- Closed visits by cause; derived, kept so that starting does not count a hundred thousand visits.
CREATE TABLE tally (cause TEXT NOT NULL PRIMARY KEY, visits INTEGER NOT NULL) STRICT, WITHOUT ROWID;
CREATE TRIGGER entry_counts AFTER INSERT ON entry WHEN NEW.kind = 'outcome'
BEGIN
    INSERT INTO tally (cause, visits) SELECT NEW.key, 1 WHERE NEW.text = 'helped'
        ON CONFLICT (cause) DO UPDATE SET visits = visits + 1;
    UPDATE tally SET visits = visits - 1
        WHERE cause = (SELECT key FROM entry WHERE id = NEW.corrects AND kind = 'outcome' AND text = 'helped');
END;

-- Holds a row only inside the transaction that erases a rider: the one way to change or remove rows.
CREATE TABLE erasing (rider INTEGER NOT NULL) STRICT;
-- Holds a row from an erasure until the file has been rewritten without it.
CREATE TABLE unscrubbed (since INTEGER NOT NULL) STRICT;

CREATE TRIGGER rider_stays BEFORE UPDATE ON rider WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER rider_remains BEFORE DELETE ON rider WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER bike_stays BEFORE UPDATE ON bike WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER bike_remains BEFORE DELETE ON bike WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER owner_stays BEFORE UPDATE ON owner WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER owner_remains BEFORE DELETE ON owner WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER rider_fact_stays BEFORE UPDATE ON rider_fact WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER rider_fact_remains BEFORE DELETE ON rider_fact WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER bike_fact_stays BEFORE UPDATE ON bike_fact WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER bike_fact_remains BEFORE DELETE ON bike_fact WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER visit_stays BEFORE UPDATE ON visit WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER visit_remains BEFORE DELETE ON visit WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER entry_stays BEFORE UPDATE ON entry WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER entry_remains BEFORE DELETE ON entry WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER setting_stays BEFORE UPDATE ON setting WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER setting_remains BEFORE DELETE ON setting WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER trial_stays BEFORE UPDATE ON trial WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER trial_remains BEFORE DELETE ON trial WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER verdict_stays BEFORE UPDATE ON verdict WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER verdict_remains BEFORE DELETE ON verdict WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER trial_end_stays BEFORE UPDATE ON trial_end WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER trial_end_remains BEFORE DELETE ON trial_end WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER wear_stays BEFORE UPDATE ON wear WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER wear_remains BEFORE DELETE ON wear WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER due_stays BEFORE UPDATE ON due WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER due_remains BEFORE DELETE ON due WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER due_done_stays BEFORE UPDATE ON due_done WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
CREATE TRIGGER due_done_remains BEFORE DELETE ON due_done WHEN NOT EXISTS (SELECT 1 FROM erasing)
BEGIN SELECT RAISE(ABORT, 'nothing in the book is overwritten'); END;
