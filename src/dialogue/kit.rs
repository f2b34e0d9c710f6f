//! What the plan of rechecks needs to know of a bike, from its facts.

use crate::trial::Kit;

/// What a bike has, from the answers (ids) to the questions about it; what is not known is taken to be there.
#[must_use]
pub fn kit<'a>(fact: impl Fn(&str) -> Option<&'a str>) -> Kit {
    let cable_free_brakes = matches!(fact("brake-kind"), Some("disc-hydraulic" | "back-pedal"));
    Kit {
        cables: !(cable_free_brakes && fact("gear-kind") == Some("single")),
        spokes: true,
        suspension: fact("suspension-kind") != Some("rigid"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rigid_single_speed_with_hoses_has_neither_sag_nor_cables() {
        let facts = |id: &str| match id {
            "suspension-kind" => Some("rigid"),
            "brake-kind" => Some("disc-hydraulic"),
            "gear-kind" => Some("single"),
            _ => None,
        };
        assert_eq!(kit(facts), Kit { cables: false, spokes: true, suspension: false });
        assert_eq!(kit(|_| None), Kit::default());
    }
}
