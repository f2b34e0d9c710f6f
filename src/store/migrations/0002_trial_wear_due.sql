-- Trials of one setting, wear readings, and checks that fall due.

CREATE TABLE trial (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bike INTEGER NOT NULL REFERENCES bike (id),
    rider INTEGER REFERENCES rider (id),
    what TEXT NOT NULL CHECK (what <> ''),
    text TEXT NOT NULL,
    si REAL NOT NULL,
    unit TEXT,
    step_si REAL NOT NULL CHECK (step_si > 0),
    least_si REAL NOT NULL CHECK (least_si > 0),
    low_si REAL NOT NULL,
    high_si REAL NOT NULL,
    seed INTEGER,
    reason TEXT,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said')),
    CHECK (low_si <= si AND si <= high_si)
) STRICT;
CREATE INDEX trial_bike ON trial (bike);
CREATE INDEX trial_rider ON trial (rider);

-- changed: names of other settings changed at the same time, one a line; such a verdict teaches nothing.
CREATE TABLE verdict (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    trial INTEGER NOT NULL REFERENCES trial (id),
    first_si REAL NOT NULL,
    second_si REAL NOT NULL,
    text TEXT NOT NULL CHECK (text IN ('first', 'second', 'same', '')),
    remark TEXT,
    changed TEXT,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said')),
    corrects INTEGER REFERENCES verdict (id) CHECK (corrects < id)
) STRICT;
CREATE INDEX verdict_trial ON verdict (trial);
CREATE UNIQUE INDEX verdict_corrects ON verdict (corrects) WHERE corrects IS NOT NULL;

CREATE TABLE trial_end (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    trial INTEGER NOT NULL UNIQUE REFERENCES trial (id),
    text TEXT NOT NULL,
    si REAL,
    unit TEXT,
    reason TEXT,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said'))
) STRICT;

-- metres: distance ridden on the bike when it was read. limit_si: worn out beyond this.
CREATE TABLE wear (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bike INTEGER NOT NULL REFERENCES bike (id),
    what TEXT NOT NULL CHECK (what <> ''),
    text TEXT NOT NULL,
    si REAL,
    unit TEXT,
    metres REAL,
    limit_si REAL,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said')),
    corrects INTEGER REFERENCES wear (id) CHECK (corrects < id)
) STRICT;
CREATE INDEX wear_bike ON wear (bike);
CREATE UNIQUE INDEX wear_corrects ON wear (corrects) WHERE corrects IS NOT NULL;

CREATE TABLE due (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    bike INTEGER NOT NULL REFERENCES bike (id),
    what TEXT NOT NULL CHECK (what <> ''),
    reason TEXT,
    due_at INTEGER,
    due_metres REAL,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said')),
    CHECK (due_at IS NOT NULL OR due_metres IS NOT NULL)
) STRICT;
CREATE INDEX due_bike ON due (bike);

CREATE TABLE due_done (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    due INTEGER NOT NULL UNIQUE REFERENCES due (id),
    text TEXT NOT NULL,
    metres REAL,
    at INTEGER NOT NULL,
    entered INTEGER NOT NULL,
    who TEXT NOT NULL,
    source TEXT NOT NULL CHECK (source IN ('measured', 'computed', 'said'))
) STRICT;
