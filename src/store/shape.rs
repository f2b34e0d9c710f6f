//! The tables that hold what was written down, column by column: what is exported, taken in, corrected and swept.
//!
//! A test compares this list with the tables themselves. Derived tables are not in it.

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    /// The row's own number.
    Id,
    /// A number of a row in another table (or this one).
    Of(&'static str),
    /// A whole number.
    Whole,
    /// A number.
    Real,
    /// A word of the program's own: an id, a kind, a unit.
    Word,
    /// Free text, in which anything can stand.
    Text,
}

/// A column.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    pub(super) name: &'static str,
    pub(super) holds: Holds,
}

/// A table.
#[derive(Clone, Copy, Debug)]
pub(super) struct Table {
    pub(super) name: &'static str,
    pub(super) columns: &'static [Column],
}

const fn id() -> Column {
    Column { name: "id", holds: Holds::Id }
}
const fn of(name: &'static str, table: &'static str) -> Column {
    Column { name, holds: Holds::Of(table) }
}
const fn whole(name: &'static str) -> Column {
    Column { name, holds: Holds::Whole }
}
const fn real(name: &'static str) -> Column {
    Column { name, holds: Holds::Real }
}
const fn word(name: &'static str) -> Column {
    Column { name, holds: Holds::Word }
}
const fn text(name: &'static str) -> Column {
    Column { name, holds: Holds::Text }
}

const AT: Column = whole("at");
const ENTERED: Column = whole("entered");
const WHO: Column = text("who");
const SOURCE: Column = word("source");
const WHAT: Column = word("what");
const TEXT: Column = text("text");
const SI: Column = real("si");
const UNIT: Column = word("unit");
const BIKE: Column = of("bike", "bike");
const RIDER: Column = of("rider", "rider");

/// All of them, each after those it refers to.
pub(super) const TABLES: &[Table] = &[
    Table { name: "rider", columns: &[id(), AT, ENTERED, WHO, SOURCE] },
    Table { name: "bike", columns: &[id(), AT, ENTERED, WHO, SOURCE] },
    Table { name: "owner", columns: &[id(), BIKE, RIDER, AT, ENTERED, WHO, SOURCE] },
    Table {
        name: "rider_fact",
        columns: &[id(), RIDER, WHAT, TEXT, SI, UNIT, AT, ENTERED, WHO, SOURCE, of("corrects", "rider_fact")],
    },
    Table {
        name: "bike_fact",
        columns: &[id(), BIKE, WHAT, TEXT, SI, UNIT, AT, ENTERED, WHO, SOURCE, of("corrects", "bike_fact")],
    },
    Table { name: "visit", columns: &[id(), BIKE, RIDER, AT, ENTERED, WHO, SOURCE] },
    Table {
        name: "entry",
        columns: &[
            id(),
            of("visit", "visit"),
            word("kind"),
            word("key"),
            TEXT,
            SI,
            UNIT,
            AT,
            ENTERED,
            WHO,
            SOURCE,
            of("corrects", "entry"),
        ],
    },
    Table {
        name: "setting",
        columns: &[
            id(),
            BIKE,
            RIDER,
            of("visit", "visit"),
            WHAT,
            TEXT,
            SI,
            UNIT,
            text("before"),
            real("before_si"),
            text("reason"),
            whole("baseline"),
            AT,
            ENTERED,
            WHO,
            SOURCE,
            of("corrects", "setting"),
        ],
    },
    Table {
        name: "trial",
        columns: &[
            id(),
            BIKE,
            RIDER,
            WHAT,
            TEXT,
            SI,
            UNIT,
            real("step_si"),
            real("least_si"),
            real("low_si"),
            real("high_si"),
            whole("seed"),
            text("reason"),
            AT,
            ENTERED,
            WHO,
            SOURCE,
        ],
    },
    Table {
        name: "verdict",
        columns: &[
            id(),
            of("trial", "trial"),
            real("first_si"),
            real("second_si"),
            word("text"),
            text("remark"),
            text("changed"),
            AT,
            ENTERED,
            WHO,
            SOURCE,
            of("corrects", "verdict"),
        ],
    },
    Table {
        name: "trial_end",
        columns: &[id(), of("trial", "trial"), TEXT, SI, UNIT, text("reason"), AT, ENTERED, WHO, SOURCE],
    },
    Table {
        name: "wear",
        columns: &[
            id(),
            BIKE,
            WHAT,
            TEXT,
            SI,
            UNIT,
            real("metres"),
            real("limit_si"),
            AT,
            ENTERED,
            WHO,
            SOURCE,
            of("corrects", "wear"),
        ],
    },
    Table {
        name: "due",
        columns: &[id(), BIKE, WHAT, text("reason"), whole("due_at"), real("due_metres"), AT, ENTERED, WHO, SOURCE],
    },
    Table { name: "due_done", columns: &[id(), of("due", "due"), TEXT, real("metres"), AT, ENTERED, WHO, SOURCE] },
];

/// The table of that name, and its place in the list.
pub(super) fn table(name: &str) -> Option<(usize, &'static Table)> {
    TABLES.iter().enumerate().find(|(_, t)| t.name == name)
}

impl Table {
    pub(super) fn names(&self) -> String {
        self.columns.iter().map(|c| c.name).collect::<Vec<_>>().join(", ")
    }
}

#[cfg(test)]
mod tests {
    use std::collections::{BTreeMap, BTreeSet};

    use super::super::book::Book;
    use super::*;

    const DERIVED: [&str; 6] = ["identity", "holds", "word", "tally", "erasing", "unscrubbed"];

    #[test]
    fn the_list_is_the_tables() {
        let book = Book::in_memory().unwrap();
        let mut all = book
            .conn
            .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
            .unwrap();
        let there: BTreeSet<String> = all.query_map([], |r| r.get(0)).unwrap().map(Result::unwrap).collect();
        let listed: BTreeSet<String> = TABLES.iter().map(|t| t.name).chain(DERIVED).map(str::to_owned).collect();
        assert_eq!(there, listed);
        for t in TABLES {
            let mut info = book.conn.prepare(&format!("PRAGMA table_info({})", t.name)).unwrap();
            let columns: Vec<(String, String)> =
                info.query_map([], |r| Ok((r.get(1)?, r.get(2)?))).unwrap().map(Result::unwrap).collect();
            let mut refers = book.conn.prepare(&format!("PRAGMA foreign_key_list({})", t.name)).unwrap();
            let refers: BTreeMap<String, String> =
                refers.query_map([], |r| Ok((r.get(3)?, r.get(2)?))).unwrap().map(Result::unwrap).collect();
            let mine: Vec<(String, String)> = t
                .columns
                .iter()
                .map(|c| {
                    let kind = match c.holds {
                        Holds::Id | Holds::Of(_) | Holds::Whole => "INTEGER",
                        Holds::Real => "REAL",
                        Holds::Word | Holds::Text => "TEXT",
                    };
                    (c.name.to_owned(), kind.to_owned())
                })
                .collect();
            assert_eq!(columns, mine, "{}", t.name);
            for c in t.columns {
                let to = if let Holds::Of(to) = c.holds { Some(to) } else { None };
                assert_eq!(refers.get(c.name).map(String::as_str), to, "{}.{}", t.name, c.name);
            }
        }
    }

    #[test]
    fn each_table_refers_to_earlier_ones_only() {
        for (i, t) in TABLES.iter().enumerate() {
            for c in t.columns {
                if let Holds::Of(to) = c.holds {
                    assert!(table(to).unwrap().0 <= i, "{} refers to {to}", t.name);
                }
            }
        }
    }
}
