//! The kinds of thing that can be measured, and one measured value.
//!
//! Owns [`Dimension`] and [`Quantity`]. Must not know how people spell units nor how text is read.

use super::unit::Unit;

/// What kind of thing a number measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// A distance; metre.
    Length,
    /// A surface, such as the face of a piston; square metre.
    Area,
    /// A room, such as an air chamber; cubic metre.
    Volume,
    /// What a scale shows; kilogram.
    Mass,
    /// Gauge pressure unless said otherwise; pascal.
    Pressure,
    /// An angle or a part of a turn; radian.
    Angle,
    /// A push or pull; newton.
    Force,
    /// Tightness of a bolt; newton metre.
    Torque,
    /// How warm; kelvin.
    Temperature,
    /// By how much warmer; kelvin.
    TemperatureRise,
    /// How long; second.
    Time,
    /// How fast; metre a second.
    Speed,
    /// How hard a bike slows; metre a second squared.
    Acceleration,
    /// Work or heat; joule.
    Energy,
    /// Work a second; watt.
    Power,
    /// Stiffness of a spring; newton a metre.
    SpringRate,
    /// How often; hertz.
    Frequency,
    /// A share, held as a fraction: 25 % is 0.25.
    Ratio,
    /// A number of things: teeth, links, clicks.
    Count,
    /// A bare number without a unit.
    Plain,
}

impl Dimension {
    /// Every dimension, in a fixed order.
    pub const ALL: [Self; 20] = [
        Self::Length,
        Self::Area,
        Self::Volume,
        Self::Mass,
        Self::Pressure,
        Self::Angle,
        Self::Force,
        Self::Torque,
        Self::Temperature,
        Self::TemperatureRise,
        Self::Time,
        Self::Speed,
        Self::Acceleration,
        Self::Energy,
        Self::Power,
        Self::SpringRate,
        Self::Frequency,
        Self::Ratio,
        Self::Count,
        Self::Plain,
    ];

    /// The dimension in plain words with its article, as it stands in a sentence.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Volume => "a volume",
            Self::Mass => "a weight",
            Self::Pressure => "a pressure",
            Self::Angle => "an angle",
            Self::Force => "a force",
            Self::Torque => "a torque",
            Self::Temperature => "a temperature",
            Self::TemperatureRise => "a rise in temperature",
            Self::Time => "a time",
            Self::Speed => "a speed",
            Self::Acceleration => "a deceleration",
            Self::Energy => "an energy",
            Self::Power => "a power",
            Self::SpringRate => "a spring rate",
            Self::Frequency => "a rate",
            Self::Ratio => "a share",
            Self::Count => "a count",
            Self::Plain => "a number",
        }
    }

    /// The symbol of the unit in which [`Quantity::si`] is held.
    #[must_use]
    pub const fn si_symbol(self) -> &'static str {
        match self {
            Self::Length => "m",
            Self::Area => "m2",
            Self::Volume => "m3",
            Self::Mass => "kg",
            Self::Pressure => "Pa",
            Self::Angle => "rad",
            Self::Force => "N",
            Self::Torque => "N m",
            Self::Temperature | Self::TemperatureRise => "K",
            Self::Time => "s",
            Self::Speed => "m/s",
            Self::Acceleration => "m/s2",
            Self::Energy => "J",
            Self::Power => "W",
            Self::SpringRate => "N/m",
            Self::Frequency => "Hz",
            Self::Ratio | Self::Count | Self::Plain => "",
        }
    }

    /// What a person could type for this dimension, for the sentence that refuses something else.
    #[must_use]
    pub const fn samples(self) -> &'static str {
        match self {
            Self::Length => "83 cm, 830 mm or 32.7 in",
            Self::Area => "10 cm2",
            Self::Volume => "180 ml or 180 cm3",
            Self::Mass => "80 kg, 176 lb or 12 st 8",
            Self::Pressure => "28 psi or 1.9 bar",
            Self::Angle => "73 deg or 1/4 turn",
            Self::Force => "500 N or 50 kgf",
            Self::Torque => "5 N m or 44 in-lb",
            Self::Temperature => "20 C or 68 F",
            Self::TemperatureRise => "40 K",
            Self::Time => "30 s or 2 min",
            Self::Speed => "25 km/h or 15 mph",
            Self::Acceleration => "5 m/s2 or 0.5 g0",
            Self::Energy => "5000 J or 5 kJ",
            Self::Power => "200 W",
            Self::SpringRate => "65 N/mm or 450 lb/in",
            Self::Frequency => "90 rpm or 350 Hz",
            Self::Ratio => "25 %",
            Self::Count => "32",
            Self::Plain => "1.5",
        }
    }
}

/// One value with its dimension, held in SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// What is measured.
    pub dimension: Dimension,
    /// The value in the SI unit of the dimension ([`Dimension::si_symbol`]); always finite when it was read.
    pub si: f64,
}

impl Quantity {
    /// A value already in SI units.
    #[must_use]
    pub const fn si(dimension: Dimension, si: f64) -> Self {
        Self { dimension, si }
    }

    /// A value in some unit.
    #[must_use]
    pub fn of(value: f64, unit: &Unit) -> Self {
        Self { dimension: unit.dimension, si: unit.to_si(value) }
    }

    /// The value in `unit`, or `None` where the unit measures something else.
    #[must_use]
    pub fn value_in(&self, unit: &Unit) -> Option<f64> {
        (unit.dimension == self.dimension).then(|| unit.value_of(self.si))
    }
}
