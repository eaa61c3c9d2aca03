//! Listed: names as a message gives them.

use std::collections::BTreeSet;

/// Each once, so many of them at the most, and how many more there are.
pub fn listed(names: &[String], most: usize) -> String {
    let mut seen = BTreeSet::new();
    let names: Vec<&str> = names.iter().map(String::as_str).filter(|name| seen.insert(*name)).collect();
    match names.len() {
        few if few <= most => names.join(", "),
        many => format!("{} and {} more", names[..most].join(", "), many - most),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_name_stands_once() {
        let names = ["a", "b", "a", "c"].map(str::to_owned);
        assert_eq!(listed(&names, 3), "a, b, c");
        assert_eq!(listed(&names, 2), "a, b and 1 more");
    }
}
