//! Unit lists, ways of showing, and sentences that many calculators share.
//!
//! Must not know any single calculator.

use super::calculator::{Shown, shown};
use crate::units as u;
use crate::units::Unit;

macro_rules! shared {
    ($($name:ident: $kind:ty = $value:expr;)*) => { $(pub(in crate::calc) const $name: $kind = $value;)* };
}

shared! {
    BODY: &[&Unit] = &[&u::CM, &u::INCH, &u::MM, &u::M];
    SMALL: &[&Unit] = &[&u::MM, &u::INCH, &u::CM];
    FRAME: &[&Unit] = &[&u::MM, &u::CM, &u::INCH];
    WAY: &[&Unit] = &[&u::M, &u::FT];
    DISTANCE: &[&Unit] = &[&u::KM, &u::MILE];
    WEIGHT: &[&Unit] = &[&u::KG, &u::LB];
    AIR: &[&Unit] = &[&u::PSI, &u::BAR, &u::KPA];
    SHOCK_AIR: &[&Unit] = &[&u::PSI, &u::BAR];
    DEGREES: &[&Unit] = &[&u::DEG];
    SHARE: &[&Unit] = &[&u::PERCENT, &u::FRACTION];
    NUMBER: &[&Unit] = &[&u::PLAIN];
    SPEEDS: &[&Unit] = &[&u::KMH, &u::MPH, &u::MPS];
    WARMTH: &[&Unit] = &[&u::CELSIUS, &u::FAHRENHEIT];
    CADENCE: &[&Unit] = &[&u::RPM];
    TORQUES: &[&Unit] = &[&u::NM, &u::LBF_IN, &u::LBF_FT];
    FORCES: &[&Unit] = &[&u::N, &u::KGF];
    AREAS: &[&Unit] = &[&u::CM2];
    VOLUMES: &[&Unit] = &[&u::ML];
    RATES: &[&Unit] = &[&u::LB_PER_IN, &u::N_PER_MM];
    METAL: &[&Unit] = &[&u::G, &u::KG];
    POWERS: &[&Unit] = &[&u::WATT, &u::KW];
    TIMES_A_SECOND: &[&Unit] = &[&u::HZ];
    SECONDS: &[&Unit] = &[&u::SECOND];

    AS_MM0: Shown = shown(&u::MM, &u::INCH, (0, 1));
    AS_MM1: Shown = shown(&u::MM, &u::INCH, (1, 2));
    AS_MM2: Shown = shown(&u::MM, &u::INCH, (2, 3));
    AS_M1: Shown = shown(&u::M, &u::FT, (1, 0));
    AS_M2: Shown = shown(&u::M, &u::FT, (2, 1));
    AS_KG1: Shown = shown(&u::KG, &u::LB, (1, 0));
    AS_PRESSURE: Shown = shown(&u::BAR, &u::PSI, (2, 0));
    AS_DEG1: Shown = shown(&u::DEG, &u::DEG, (1, 1));
    AS_DEG2: Shown = shown(&u::DEG, &u::DEG, (2, 2));
    AS_DEG4: Shown = shown(&u::DEG, &u::DEG, (4, 4));
    AS_PERCENT0: Shown = shown(&u::PERCENT, &u::PERCENT, (0, 0));
    AS_PERCENT1: Shown = shown(&u::PERCENT, &u::PERCENT, (1, 1));
    AS_PERCENT2: Shown = shown(&u::PERCENT, &u::PERCENT, (2, 2));
    AS_PLAIN2: Shown = shown(&u::PLAIN, &u::PLAIN, (2, 2));
    AS_PLAIN3: Shown = shown(&u::PLAIN, &u::PLAIN, (3, 3));
    AS_COUNT: Shown = shown(&u::TIMES, &u::TIMES, (0, 0));
    AS_COUNT1: Shown = shown(&u::TIMES, &u::TIMES, (1, 1));
    AS_COUNT2: Shown = shown(&u::TIMES, &u::TIMES, (2, 2));
    AS_NEWTON: Shown = shown(&u::N, &u::LBF, (0, 0));
    AS_NM: Shown = shown(&u::NM, &u::NM, (1, 1));
    AS_SPRING: Shown = shown(&u::N_PER_MM, &u::LB_PER_IN, (1, 0));
    AS_HZ: Shown = shown(&u::HZ, &u::HZ, (2, 2));
    AS_KMH: Shown = shown(&u::KMH, &u::MPH, (1, 1));
    AS_WATT: Shown = shown(&u::WATT, &u::WATT, (0, 0));
    AS_JOULE: Shown = shown(&u::KJ, &u::KJ, (1, 1));
    AS_RISE: Shown = shown(&u::RISE_C, &u::RISE_F, (0, 0));
    AS_SECONDS: Shown = shown(&u::SECOND, &u::SECOND, (2, 2));
    AS_BRAKING: Shown = shown(&u::MPS2, &u::MPS2, (2, 2));
    AS_G: Shown = shown(&u::G0, &u::G0, (2, 2));
    AS_KM: Shown = shown(&u::KM, &u::MILE, (0, 0));
}

/// Standard gravity, m/s2.
pub(in crate::calc) const G: f64 = 9.806_65;
