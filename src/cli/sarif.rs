//! Findings as SARIF 2.1.0, the OASIS standard in which programs that look at checks exchange results.

use crate::check;
use crate::cli::present::{cell, file_of};
use crate::cli::say;
use crate::record::{Built, located};
use serde_json::{Value, json};

/// The findings of one cover; files are named from the folder in which the command was typed.
pub fn results(shown: &str, built: &Built) -> Vec<Value> {
    let result = |finding| {
        let found = located(&built.files, finding);
        let help = found.help.as_ref().map_or(String::new(), |help| format!(" – {help}"));
        json!({
            "ruleId": found.rule,
            "level": found.severity.word(),
            "message": { "text": format!("{}{}{help}", cell(built, finding), found.message) },
            "locations": [{ "physicalLocation": {
                "artifactLocation": { "uri": uri(&file_of(shown, built, finding)) },
                "region": { "startLine": found.line, "startColumn": found.column },
            } }],
        })
    };
    built.findings.iter().map(result).collect()
}

/// One log of all covers.
pub fn log(results: &[Value]) -> String {
    let rule = |name| {
        let page = check::explain(name).unwrap_or_default();
        let first = page.lines().next().unwrap_or_default().to_owned();
        json!({ "id": name, "shortDescription": { "text": first }, "help": { "text": page } })
    };
    let rules: Vec<Value> = check::names().map(rule).collect();
    let driver = json!({ "name": "jaconet", "version": env!("CARGO_PKG_VERSION"), "rules": rules });
    let run = json!({ "tool": { "driver": driver }, "columnKind": "unicodeCodePoints", "results": results });
    say::json(&json!({ "version": "2.1.0", "runs": [run] }))
}

/// A path as a relative URI: what RFC 3986 does not let stand is percent-encoded.
fn uri(path: &str) -> String {
    let kept = |byte: &u8| byte.is_ascii_alphanumeric() || b"/-._~".contains(byte);
    path.bytes().map(|byte| if kept(&byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") }).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn paths_become_uris() {
        assert_eq!(super::uri("My Föö/cover.kdl"), "My%20F%C3%B6%C3%B6/cover.kdl");
    }
}
