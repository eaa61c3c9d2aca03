//! House: what the code of a file says apart from comments, strings and tests.

use std::collections::BTreeSet;

/// What of a file is built into the program: the part before its tests, without what stands in it for them alone.
pub fn code_of(text: &str) -> String {
    const TEST: &str = "#[cfg(test)]\n";
    let end =
        ["mod ", "pub mod "].iter().flat_map(|word| text.match_indices(&format!("{TEST}{word}")).collect::<Vec<_>>());
    let opens = |at: &usize| text[*at + TEST.len()..].lines().next().is_some_and(|line| line.ends_with('{'));
    let end = end.map(|(at, _)| at).filter(opens).min().unwrap_or(text.len());
    let mut parts = text[..end].split(TEST);
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |code, part| code + part.split_once(";\n").map_or("", |(_, after)| after))
}

/// The modules that a file declares for its tests alone.
pub fn test_modules(text: &str) -> Vec<String> {
    let after = text.split("#[cfg(test)]\n").skip(1);
    let named = |rest: &str| {
        let line = rest.lines().next()?.trim_start_matches("pub ");
        Some(line.strip_prefix("mod ")?.strip_suffix(';')?.to_owned())
    };
    after.filter_map(named).collect()
}

/// Without comments, and with the insides of strings on one line taken out.
pub fn bare(code: &str) -> String {
    let line = |line: &str| {
        let line = line.split_once("//").map_or(line, |(before, _)| before);
        let outside = line.split('"').step_by(2).collect::<Vec<_>>();
        outside.join("\"\"") + "\n"
    };
    code.lines().map(line).collect()
}

/// The rooms that a file names by `crate::room`.
pub fn rooms_used(code: &str) -> BTreeSet<String> {
    let code = bare(code);
    let names = code.split("crate::").skip(1);
    let name = |rest: &str| rest.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect();
    names.map(name).filter(|name: &String| !name.is_empty()).collect()
}
