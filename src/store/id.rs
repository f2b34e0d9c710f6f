//! Numbers of things in the book, one type for each, so that they cannot be mixed up.

use rusqlite::types::{FromSql, FromSqlResult, ToSql, ToSqlOutput, ValueRef};

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub i64);

        impl ToSql for $name {
            fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
                self.0.to_sql()
            }
        }

        impl FromSql for $name {
            fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
                i64::column_result(value).map(Self)
            }
        }
    };
}

id!(
    /// A rider.
    RiderId
);
id!(
    /// A bike.
    BikeId
);
id!(
    /// A visit.
    VisitId
);
id!(
    /// A trial.
    TrialId
);
id!(
    /// A check that falls due.
    DueId
);

/// A row that can be put right by a later one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Row {
    /// A measurement or name of a rider.
    RiderFact(i64),
    /// A fact or name of a bike.
    BikeFact(i64),
    /// An entry of a visit.
    Entry(i64),
    /// A setting.
    Setting(i64),
    /// A verdict of a trial.
    Verdict(i64),
    /// A wear reading.
    Wear(i64),
}

impl Row {
    /// The number within its table.
    #[must_use]
    pub fn number(self) -> i64 {
        match self {
            Row::RiderFact(n) | Row::BikeFact(n) | Row::Entry(n) | Row::Setting(n) | Row::Verdict(n) | Row::Wear(n) => {
                n
            }
        }
    }

    pub(super) fn table(self) -> &'static str {
        match self {
            Row::RiderFact(_) => "rider_fact",
            Row::BikeFact(_) => "bike_fact",
            Row::Entry(_) => "entry",
            Row::Setting(_) => "setting",
            Row::Verdict(_) => "verdict",
            Row::Wear(_) => "wear",
        }
    }
}
