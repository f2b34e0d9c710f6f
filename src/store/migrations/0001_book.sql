-- Riders, bikes, who owns which, visits and settings.
--
-- at: when the thing holds (unix seconds). entered: when it was written down. who: who wrote it. source: where it comes from.
-- text: as a person reads it. si: the same in SI units, if it is a quantity. unit: the unit of the text.
-- corrects: the row that this one puts right; an empty text then takes it back.

CREATE TABLE rider (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said'))
) STRICT;

CREATE TABLE bike (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said'))
) STRICT;

CREATE TABLE owner (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bike INTEGER NOT NULL REFERENCES bike (id),
    rider INTEGER REFERENCES rider (id),
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said'))
) STRICT;
CREATE INDEX owner_bike ON owner (bike);
CREATE INDEX owner_rider ON owner (rider);

CREATE TABLE rider_fact (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    rider INTEGER NOT NULL REFERENCES rider (id),
    what TEXT NOT NULL CHECK (what <> ''),
    text TEXT NOT NULL,
    si REAL,
    unit TEXT,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said')),
    corrects INTEGER REFERENCES rider_fact (id) CHECK (corrects < id)
) STRICT;
CREATE INDEX rider_fact_rider ON rider_fact (rider);
CREATE UNIQUE INDEX rider_fact_corrects ON rider_fact (corrects) WHERE corrects IS NOT NULL;

CREATE TABLE bike_fact (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bike INTEGER NOT NULL REFERENCES bike (id),
    what TEXT NOT NULL CHECK (what <> ''),
    text TEXT NOT NULL,
    si REAL,
    unit TEXT,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said')),
    corrects INTEGER REFERENCES bike_fact (id) CHECK (corrects < id)
) STRICT;
CREATE INDEX bike_fact_bike ON bike_fact (bike);
CREATE UNIQUE INDEX bike_fact_corrects ON bike_fact (corrects) WHERE corrects IS NOT NULL;

CREATE TABLE visit (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bike INTEGER REFERENCES bike (id),
    rider INTEGER REFERENCES rider (id),
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said'))
) STRICT;
CREATE INDEX visit_bike ON visit (bike, at);
CREATE INDEX visit_rider ON visit (rider);

-- key: id of the finding, cause or check that the entry is about, if it has one.
CREATE TABLE entry (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    visit INTEGER NOT NULL REFERENCES visit (id),
    kind TEXT NOT NULL CHECK (kind IN
        ('complaint', 'line', 'finding', 'belief', 'check', 'caution', 'cause', 'repair', 'outcome', 'note')),
    key TEXT,
    text TEXT NOT NULL,
    si REAL,
    unit TEXT,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said')),
    corrects INTEGER REFERENCES entry (id) CHECK (corrects < id),
    CHECK (kind <> 'outcome' OR (key IS NOT NULL AND text IN ('helped', 'partly', 'no', 'not-done', 'came-back', '')))
) STRICT;
CREATE INDEX entry_visit ON entry (visit);
CREATE UNIQUE INDEX entry_corrects ON entry (corrects) WHERE corrects IS NOT NULL;

CREATE TABLE setting (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bike INTEGER NOT NULL REFERENCES bike (id),
    rider INTEGER REFERENCES rider (id),
    visit INTEGER REFERENCES visit (id),
    what TEXT NOT NULL CHECK (what <> ''),
    text TEXT NOT NULL,
    si REAL,
    unit TEXT,
    before TEXT,
    before_si REAL,
    reason TEXT,
    baseline INTEGER NOT NULL CHECK (baseline IN (0, 1)),
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said')),
    corrects INTEGER REFERENCES setting (id) CHECK (corrects < id)
) STRICT;
CREATE INDEX setting_bike ON setting (bike);
CREATE INDEX setting_rider ON setting (rider);
CREATE INDEX setting_visit ON setting (visit);
CREATE UNIQUE INDEX setting_corrects ON setting (corrects) WHERE corrects IS NOT NULL;
