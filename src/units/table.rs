//! Every unit the house reads and writes, with all its spellings.
//!
//! Owns the entries and [`UNITS`]. Adding a unit is one `unit!` entry and one line of the list. Must not know how text is read.

use uom::si::f64 as q;
use uom::si::{
    acceleration, angle, area, energy, force, frequency, length, mass, power, pressure, ratio, surface_tension,
    temperature_interval, thermodynamic_temperature, time, torque, velocity, volume,
};

use super::dimension::Dimension;
use super::unit::{System, Unit};

macro_rules! unit {
    ($(#[$doc:meta])* $name:ident: $dimension:ident $symbol:literal, $system:ident, [$($spelling:literal),*], [$($loose:literal),*], $decimals:literal,
     $below:expr, $quantity:ident $module:ident $unit:ident x $factor:literal -> $base:ident) => {
        $(#[$doc])*
        pub static $name: Unit = Unit {
            symbol: $symbol,
            dimension: Dimension::$dimension,
            system: System::$system,
            spellings: &[$($spelling),*],
            loose: &[$($loose),*],
            decimals: $decimals,
            below: $below,
            into: |x| q::$quantity::new::<$module::$unit>(x * $factor).get::<$module::$base>(),
            from: |x| q::$quantity::new::<$module::$base>(x).get::<$module::$unit>() / $factor,
        };
    };
    ($(#[$doc:meta])* $name:ident: $dimension:ident $symbol:literal, plain, [$($spelling:literal),*], $decimals:literal) => {
        $(#[$doc])*
        pub static $name: Unit = Unit {
            symbol: $symbol,
            dimension: Dimension::$dimension,
            system: System::Both,
            spellings: &[$($spelling),*],
            loose: &[],
            decimals: $decimals,
            below: None,
            into: |x| x,
            from: |x| x,
        };
    };
}

unit!(/// Millimetre.
    MM: Length "mm", Metric, ["mm", "mms", "millimetre", "millimetres", "millimeter", "millimeters", "mil", "mils"], [], 2, None, Length length millimeter x 1.0 -> meter);
unit!(/// Centimetre.
    CM: Length "cm", Metric, ["cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters"], [], 1, None, Length length centimeter x 1.0 -> meter);
unit!(/// Metre; a bare number after it counts centimetres ("1 m 76").
    M: Length "m", Metric, ["m", "metre", "metres", "meter", "meters", "mtr", "mtrs"], [], 3, Some(&CM), Length length meter x 1.0 -> meter);
unit!(/// Kilometre.
    KM: Length "km", Metric, ["km", "kms", "kilometre", "kilometres", "kilometer", "kilometers"], ["k"], 2, None, Length length kilometer x 1.0 -> meter);
unit!(/// Inch.
    INCH: Length "in", Imperial, ["in", "in.", "inch", "inches", "\"", "''", "″", "”", "“"], ["ins"], 2, None, Length length inch x 1.0 -> meter);
unit!(/// Foot; a bare number after it counts inches.
    FT: Length "ft", Imperial, ["ft", "ft.", "foot", "feet", "'", "′", "’"], [], 2, Some(&INCH), Length length foot x 1.0 -> meter);
unit!(/// Mile.
    MILE: Length "mi", Imperial, ["mi", "mile", "miles"], [], 2, None, Length length mile x 1.0 -> meter);

unit!(/// Square centimetre.
    CM2: Area "cm2", Metric, ["cm2", "cm²", "sq cm"], [], 2, None, Area area square_centimeter x 1.0 -> square_meter);
unit!(/// Square metre.
    M2: Area "m2", Metric, ["m2", "m²", "sq m"], [], 3, None, Area area square_meter x 1.0 -> square_meter);
unit!(/// Square inch.
    IN2: Area "in2", Imperial, ["in2", "in²", "sq in"], [], 2, None, Area area square_inch x 1.0 -> square_meter);
unit!(/// Cubic centimetre or millilitre.
    ML: Volume "ml", Metric, ["ml", "cc", "cm3", "cm³"], [], 1, None, Volume volume cubic_centimeter x 1.0 -> cubic_meter);
unit!(/// Litre.
    LITRE: Volume "l", Metric, ["litre", "litres", "liter", "liters"], ["l"], 2, None, Volume volume liter x 1.0 -> cubic_meter);
unit!(/// Cubic inch.
    IN3: Volume "in3", Imperial, ["in3", "in³", "cu in"], [], 2, None, Volume volume cubic_inch x 1.0 -> cubic_meter);

unit!(/// Kilogram.
    KG: Mass "kg", Metric, ["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], ["k"], 1, None, Mass mass kilogram x 1.0 -> kilogram);
unit!(/// Gram.
    G: Mass "g", Metric, ["g", "gr", "gram", "grams", "gramme", "grammes"], [], 0, None, Mass mass gram x 1.0 -> kilogram);
unit!(/// Pound; a bare number after it counts ounces.
    LB: Mass "lb", Imperial, ["lb", "lbs", "lb.", "lbs.", "pound", "pounds"], [], 1, Some(&OZ), Mass mass pound x 1.0 -> kilogram);
unit!(/// Ounce.
    OZ: Mass "oz", Imperial, ["oz", "ounce", "ounces"], [], 1, None, Mass mass ounce x 1.0 -> kilogram);
unit!(/// Stone of 14 pounds; a bare number after it counts pounds.
    STONE: Mass "st", Imperial, ["st", "stone", "stones"], [], 1, Some(&LB), Mass mass pound x 14.0 -> kilogram);

unit!(/// Pound a square inch.
    PSI: Pressure "psi", Imperial, ["psi", "psis", "p.s.i.", "lb/in2", "lbs/in2", "lb per square inch"], ["lb", "lbs", "pound", "pounds"], 1, None, Pressure pressure psi x 1.0 -> pascal);
unit!(/// Bar.
    BAR: Pressure "bar", Metric, ["bar", "bars"], ["b", "atm"], 2, None, Pressure pressure bar x 1.0 -> pascal);
unit!(/// Kilopascal.
    KPA: Pressure "kPa", Metric, ["kpa", "kilopascal", "kilopascals"], [], 1, None, Pressure pressure kilopascal x 1.0 -> pascal);
unit!(/// Megapascal.
    MPA: Pressure "MPa", Metric, ["mpa", "megapascal", "megapascals", "n/mm2"], [], 2, None, Pressure pressure megapascal x 1.0 -> pascal);
unit!(/// Kilogram-force a square centimetre (technical atmosphere), on older pumps and tyres.
    KGF_CM2: Pressure "kg/cm2", Metric, ["kg/cm2", "kg/cm²", "kgf/cm2", "kgf/cm²"], [], 2, None, Pressure pressure kilogram_force_per_square_centimeter x 1.0 -> pascal);
unit!(/// Pascal.
    PA: Pressure "Pa", Metric, ["pa", "pascal", "pascals"], [], 0, None, Pressure pressure pascal x 1.0 -> pascal);

unit!(/// Degree.
    DEG: Angle "deg", Both, ["deg", "degs", "degree", "degrees", "°", "º"], [], 2, None, Angle angle degree x 1.0 -> radian);
unit!(/// Radian.
    RAD: Angle "rad", Both, ["rad", "radian", "radians"], [], 3, None, Angle angle radian x 1.0 -> radian);
unit!(/// One full turn.
    TURN: Angle "turn", Both, ["turn", "turns", "revolution", "revolutions"], [], 2, None, Angle angle revolution x 1.0 -> radian);

unit!(/// Newton.
    N: Force "N", Metric, ["n", "newton", "newtons"], [], 1, None, Force force newton x 1.0 -> newton);
unit!(/// Kilonewton.
    KN: Force "kN", Metric, ["kn", "kilonewton", "kilonewtons"], [], 2, None, Force force kilonewton x 1.0 -> newton);
unit!(/// Kilogram-force, the pull of a kilogram's weight.
    KGF: Force "kgf", Metric, ["kgf", "kilogram force", "kp"], ["kg", "kilo", "kilos"], 1, None, Force force kilogram_force x 1.0 -> newton);
unit!(/// Pound-force.
    LBF: Force "lbf", Imperial, ["lbf", "pound force"], ["lb", "lbs", "pound", "pounds"], 2, None, Force force pound_force x 1.0 -> newton);

unit!(/// Newton metre.
    NM: Torque "N m", Metric, ["n m", "nm", "n.m", "newton metre", "newton metres", "newton meter", "newton meters", "newtonmetre", "newtonmeter", "newtonmeters"], ["newton", "newtons", "n"], 2, None, Torque torque newton_meter x 1.0 -> newton_meter);
unit!(/// Pound-force inch.
    LBF_IN: Torque "lbf in", Imperial, ["lbf in", "lb in", "lbs in", "in lb", "in lbs", "in lbf", "inch pound", "inch pounds", "pound inch", "pound inches", "inlb", "inlbs", "inch lb", "inch lbs"], [], 2, None, Torque torque pound_force_inch x 1.0 -> newton_meter);
unit!(/// Pound-force foot.
    LBF_FT: Torque "lbf ft", Imperial, ["lbf ft", "lb ft", "lbs ft", "ft lb", "ft lbs", "ft lbf", "foot pound", "foot pounds", "pound foot", "pound feet", "ftlb", "ftlbs", "foot lb", "foot lbs"], [], 2, None, Torque torque pound_force_foot x 1.0 -> newton_meter);
unit!(/// Kilogram-force metre.
    KGF_M: Torque "kgf m", Metric, ["kgf m", "kg m", "kgm"], [], 3, None, Torque torque kilogram_force_meter x 1.0 -> newton_meter);

unit!(/// Degree Celsius.
    CELSIUS: Temperature "C", Metric, ["°c", "deg c", "degc", "degree c", "degrees c", "celsius", "centigrade", "degrees celsius", "degree celsius", "degrees centigrade", "℃"], ["c", "deg", "degree", "degrees", "°"], 1, None, ThermodynamicTemperature thermodynamic_temperature degree_celsius x 1.0 -> kelvin);
unit!(/// Degree Fahrenheit.
    FAHRENHEIT: Temperature "F", Imperial, ["°f", "deg f", "degf", "degree f", "degrees f", "fahrenheit", "degrees fahrenheit", "degree fahrenheit", "℉"], ["f"], 1, None, ThermodynamicTemperature thermodynamic_temperature degree_fahrenheit x 1.0 -> kelvin);
unit!(/// Kelvin.
    KELVIN: Temperature "K", Both, ["kelvin", "kelvins"], ["k"], 1, None, ThermodynamicTemperature thermodynamic_temperature kelvin x 1.0 -> kelvin);
unit!(/// Rise by a kelvin or a degree Celsius.
    RISE_C: TemperatureRise "°C warmer", Metric, ["°c warmer", "c warmer", "degrees warmer"], ["k", "c", "°c", "deg", "degree", "degrees", "°"], 1, None, TemperatureInterval temperature_interval kelvin x 1.0 -> kelvin);
unit!(/// Rise by a degree Fahrenheit.
    RISE_F: TemperatureRise "°F warmer", Imperial, ["°f warmer", "f warmer"], ["f", "°f"], 1, None, TemperatureInterval temperature_interval degree_fahrenheit x 1.0 -> kelvin);

unit!(/// Second.
    SECOND: Time "s", Both, ["s", "sec", "secs", "second", "seconds"], [], 2, None, Time time second x 1.0 -> second);
unit!(/// Minute; a bare number after it counts seconds.
    MINUTE: Time "min", Both, ["min", "mins", "minute", "minutes"], ["m"], 1, Some(&SECOND), Time time minute x 1.0 -> second);
unit!(/// Hour; a bare number after it counts minutes.
    HOUR: Time "h", Both, ["h", "hr", "hrs", "hour", "hours"], [], 2, Some(&MINUTE), Time time hour x 1.0 -> second);

unit!(/// Kilometre an hour.
    KMH: Speed "km/h", Metric, ["km/h", "kmh", "kph", "kmph", "km per hour", "k/h", "km/hr"], ["km", "k"], 1, None, Velocity velocity kilometer_per_hour x 1.0 -> meter_per_second);
unit!(/// Mile an hour.
    MPH: Speed "mph", Imperial, ["mph", "mi/h", "miles per hour", "miles an hour"], ["mile", "miles"], 1, None, Velocity velocity mile_per_hour x 1.0 -> meter_per_second);
unit!(/// Metre a second.
    MPS: Speed "m/s", Metric, ["m/s", "metres per second", "meters per second"], [], 2, None, Velocity velocity meter_per_second x 1.0 -> meter_per_second);
unit!(/// Metre a second squared.
    MPS2: Acceleration "m/s2", Metric, ["m/s2", "m/s²", "m/s^2"], [], 2, None, Acceleration acceleration meter_per_second_squared x 1.0 -> meter_per_second_squared);
unit!(/// Standard gravity as a measure of braking.
    G0: Acceleration "g0", Both, ["g0"], ["g", "gee"], 3, None, Acceleration acceleration standard_gravity x 1.0 -> meter_per_second_squared);

unit!(/// Joule.
    JOULE: Energy "J", Metric, ["j", "joule", "joules"], [], 1, None, Energy energy joule x 1.0 -> joule);
unit!(/// Kilojoule.
    KJ: Energy "kJ", Metric, ["kj", "kilojoule", "kilojoules"], [], 2, None, Energy energy kilojoule x 1.0 -> joule);
unit!(/// Watt.
    WATT: Power "W", Metric, ["w", "watt", "watts"], [], 1, None, Power power watt x 1.0 -> watt);
unit!(/// Kilowatt.
    KW: Power "kW", Metric, ["kw", "kilowatt", "kilowatts"], [], 2, None, Power power kilowatt x 1.0 -> watt);

unit!(/// Newton a millimetre.
    N_PER_MM: SpringRate "N/mm", Metric, ["n/mm", "newton per millimetre", "newtons per millimetre"], ["n"], 2, None, SurfaceTension surface_tension newton_per_meter x 1000.0 -> newton_per_meter);
unit!(/// Pound-force an inch.
    LB_PER_IN: SpringRate "lb/in", Imperial, ["lb/in", "lbs/in", "lbf/in", "lb/inch", "lbs/inch", "pounds per inch", "pound per inch", "lb per inch", "lbs per inch"], ["lb", "lbs", "pound", "pounds"], 1, None, SurfaceTension surface_tension pound_force_per_inch x 1.0 -> newton_per_meter);

unit!(/// Hertz, times a second.
    HZ: Frequency "Hz", Both, ["hz", "hertz", "times a second", "times per second", "per second"], [], 3, None, Frequency frequency hertz x 1.0 -> hertz);
unit!(/// Turns a minute.
    RPM: Frequency "rpm", Both, ["rpm", "r.p.m.", "turns a minute", "turns per minute", "revs per minute", "rev/min", "per minute"], [], 1, None, Frequency frequency cycle_per_minute x 1.0 -> hertz);

unit!(/// Per cent.
    PERCENT: Ratio "%", Both, ["%", "percent", "per cent", "pct"], [], 2, None, Ratio ratio percent x 1.0 -> ratio);
unit!(/// A share as a fraction of one.
    FRACTION: Ratio "of 1", Both, ["of 1"], [], 3, None, Ratio ratio ratio x 1.0 -> ratio);

unit!(/// Teeth of a ring or sprocket.
    TEETH: Count "teeth", plain, ["t", "teeth", "tooth"], 0);
unit!(/// Links of a chain, an inner and an outer plate pair counting as two.
    LINKS: Count "links", plain, ["link", "links"], 0);
unit!(/// Clicks of an adjuster.
    CLICKS: Count "clicks", plain, ["click", "clicks"], 0);
unit!(/// Spokes.
    SPOKES: Count "spokes", plain, ["spoke", "spokes"], 0);
unit!(/// A count of anything else.
    TIMES: Count "", plain, [], 1);
unit!(/// A bare number.
    PLAIN: Plain "", plain, [], 3);

/// Every unit, in the order in which spellings are tried.
pub static UNITS: &[&Unit] = &[
    &MM,
    &CM,
    &M,
    &KM,
    &INCH,
    &FT,
    &MILE,
    &CM2,
    &M2,
    &IN2,
    &ML,
    &LITRE,
    &IN3,
    &KG,
    &G,
    &LB,
    &OZ,
    &STONE,
    &PSI,
    &BAR,
    &KPA,
    &MPA,
    &KGF_CM2,
    &PA,
    &DEG,
    &RAD,
    &TURN,
    &N,
    &KN,
    &KGF,
    &LBF,
    &NM,
    &LBF_IN,
    &LBF_FT,
    &KGF_M,
    &CELSIUS,
    &FAHRENHEIT,
    &KELVIN,
    &RISE_C,
    &RISE_F,
    &SECOND,
    &MINUTE,
    &HOUR,
    &KMH,
    &MPH,
    &MPS,
    &MPS2,
    &G0,
    &JOULE,
    &KJ,
    &WATT,
    &KW,
    &N_PER_MM,
    &LB_PER_IN,
    &HZ,
    &RPM,
    &PERCENT,
    &FRACTION,
    &TEETH,
    &LINKS,
    &CLICKS,
    &SPOKES,
    &TIMES,
    &PLAIN,
];

/// The unit with this symbol, exactly as [`Unit::symbol`] gives it.
#[must_use]
pub fn by_symbol(symbol: &str) -> Option<&'static Unit> {
    UNITS.iter().copied().find(|unit| unit.symbol == symbol && !symbol.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_what_they_are_defined_to_be() {
        // Exact definitions, to the digits that the conversions carry.
        let cases: &[(f64, &Unit, f64, &Unit)] = &[
            (5.0, &NM, 44.2537, &LBF_IN),
            (5.0, &NM, 3.687_81, &LBF_FT),
            (40.0, &LBF_IN, 4.519_39, &NM),
            (10.0, &LBF_FT, 13.558_2, &NM),
            (35.0, &LBF_FT, 47.453_6, &NM),
            (12.0, &LBF_IN, 1.0, &LBF_FT),
            (1.0, &KGF_M, 9.806_65, &NM),
            (1.0, &LBF, 4.448_221_6, &N),
            (89.0, &MM, 3.504, &INCH),
            (1.0, &PSI, 6.894_757, &KPA),
            (1.0, &LB_PER_IN, 0.175_126_8, &N_PER_MM),
            (1.0, &STONE, 14.0, &LB),
            (20.0, &CELSIUS, 68.0, &FAHRENHEIT),
            (0.5, &TURN, 180.0, &DEG),
            (90.0, &RPM, 1.5, &HZ),
            (15.0, &MPH, 24.140_16, &KMH),
        ];
        for (value, from, want, to) in cases {
            let got = to.value_of(from.to_si(*value));
            assert!((got - want).abs() <= 2e-5 * want.abs(), "{value} {from} is {got} {to}, wanted {want}");
        }
    }

    #[test]
    fn symbols_are_unique_and_found() {
        for unit in UNITS.iter().filter(|unit| !unit.symbol.is_empty()) {
            assert_eq!(UNITS.iter().filter(|other| other.symbol == unit.symbol).count(), 1, "{}", unit.symbol);
            assert_eq!(by_symbol(unit.symbol), Some(*unit));
        }
    }
}
