//! Findings as SARIF 2.1.0, the OASIS standard in which programs that look at checks exchange results.

use crate::check;
use crate::cli::location::beside;
use crate::cli::say;
use serde_json::{Value, json};

/// One log of all covers, from their objects, and of what titles of a catalogue share. Files are named from the folder in
/// which the command was typed.
pub fn log(covers: &[Value], templates: &[Value]) -> String {
    let rule = |name| {
        let page = check::explain(name).unwrap_or_default();
        let first = page.lines().next().unwrap_or_default().to_owned();
        json!({ "id": name, "shortDescription": { "text": first }, "help": { "text": page } })
    };
    let rules: Vec<Value> = check::names().map(rule).collect();
    let driver = json!({ "name": "jaconet", "version": env!("CARGO_PKG_VERSION"), "rules": rules });
    let found = |cover: &Value| -> Vec<Value> {
        let findings = cover["findings"].as_array().into_iter().flatten();
        findings.map(|finding| result(word(&cover["cover"]), finding)).collect()
    };
    let mut results: Vec<Value> = covers.iter().flat_map(found).collect();
    results.extend(templates.iter().map(|shared| {
        let mut result = result(word(&shared["cover"]), shared);
        result["occurrenceCount"] = shared["count"].clone();
        result
    }));
    let run = json!({ "tool": { "driver": driver }, "columnKind": "unicodeCodePoints", "results": results });
    say::json(&json!({ "version": "2.1.0", "runs": [run] }))
}

fn result(cover: &str, finding: &Value) -> Value {
    let help = finding["help"].as_str().map_or(String::new(), |help| format!(" – {help}"));
    let column = finding["cell"].as_str().map_or_else(String::new, |column| format!(", {column}"));
    let row = finding["row"].as_u64();
    let cell = row.map_or_else(String::new, |row| format!("{}, row {row}{column}: ", word(&finding["table"])));
    let mut location = json!({ "physicalLocation": {
        "artifactLocation": { "uri": uri(&beside(cover, word(&finding["file"]))) },
        "region": { "startLine": finding["line"], "startColumn": finding["column"] },
    } });
    // 3.33: a logical location is a place in a program's own terms; here an element of a panel.
    let parts = [word(&finding["panel"]), word(&finding["element"])];
    let parts: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    if let Some(name) = parts.last() {
        location["logicalLocations"] = json!([{ "name": name, "fullyQualifiedName": parts.join("/") }]);
    }
    let mut result = json!({
        "ruleId": finding["rule"],
        "level": finding["severity"],
        "message": { "text": format!("{cell}{}{help}", word(&finding["message"])) },
        "locations": [location],
    });
    // 3.8: what the standard has no word for goes into a property bag.
    let kept = ["place", "from", "measured"].into_iter().filter(|name| !finding[name].is_null());
    let bag: serde_json::Map<String, Value> = kept.map(|name| (name.to_owned(), finding[name].clone())).collect();
    if !bag.is_empty() {
        result["properties"] = Value::Object(bag);
    }
    result
}

fn word(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
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
