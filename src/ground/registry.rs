//! The registry of output conditions: names that a file may give instead of describing the press.

/// Where registered output conditions are kept.
pub const REGISTRY: &str = "http://www.color.org";

/// Reference names of the ICC's characterisation data registry as known on 27 November 2026: from lists in public manuals of
/// other programs, and from memory. A name that is missing here costs a file nothing but the registry's address.
pub const REGISTERED: [&str; 49] = [
    "CGATS TR 001",
    "CGATS TR 002",
    "CGATS TR 003",
    "CGATS TR 005",
    "CGATS TR 006",
    "CGATS21-2-CRPC1",
    "CGATS21-2-CRPC2",
    "CGATS21-2-CRPC3",
    "CGATS21-2-CRPC4",
    "CGATS21-2-CRPC5",
    "CGATS21-2-CRPC6",
    "CGATS21-2-CRPC7",
    "EUROSB104",
    "EUROSB204",
    "FOGRA27",
    "FOGRA28",
    "FOGRA29",
    "FOGRA30",
    "FOGRA31",
    "FOGRA32",
    "FOGRA33",
    "FOGRA34",
    "FOGRA35",
    "FOGRA36",
    "FOGRA37",
    "FOGRA38",
    "FOGRA39",
    "FOGRA40",
    "FOGRA41",
    "FOGRA42",
    "FOGRA43",
    "FOGRA44",
    "FOGRA45",
    "FOGRA46",
    "FOGRA47",
    "FOGRA48",
    "FOGRA49",
    "FOGRA50",
    "FOGRA51",
    "FOGRA52",
    "FOGRA53",
    "FOGRA54",
    "FOGRA55",
    "IFRA26",
    "IFRA30",
    "JC200103",
    "JC200104",
    "JCN2002",
    "JCW2003",
];

pub fn registered(condition: &str) -> bool {
    REGISTERED.binary_search(&condition).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_registered_conditions_name_the_registry() {
        assert!(REGISTERED.is_sorted());
        let all =
            ["FOGRA39", "CGATS TR 006", "JC200103", "FOGRA", "FOGRA999", "Our digital press", "FOGRA39 (open data)"];
        assert_eq!(all.map(registered), [true, true, true, false, false, false, false]);
    }
}
