//! Conditions of printing: whether two names mean one, however they are spelled.

/// FOGRA39, `Fogra 39L`: blanks, hyphens and cases do not count, nor the `L` that data sets of one condition may have at their end.
pub fn same_condition(one: &str, other: &str) -> bool {
    let plain = |name: &str| -> String {
        let name: String = name.chars().filter(char::is_ascii_alphanumeric).collect();
        name.to_ascii_uppercase().trim_end_matches('L').to_owned()
    };
    plain(one) == plain(other)
}
