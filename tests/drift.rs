//! `jaconet drift`: pictures of the worst cases, and findings of what they expose.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

#[path = "kit/spoken.rs"]
mod spoken;

use serde_json::Value;
use spoken::jaconet;

const COVER: &str = "book { title \"Salt and Lanterns\"; pages 320 }
format paperback { trim 129 198; spine 20 }
panel front { band frame { swatch black; left fold 4; right trim 4; top trim 4; bottom trim 4 } }
";

#[test]
fn pictures_are_written_and_what_they_expose_is_told() {
    let home = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(home.path().join("cover.kdl"), COVER).expect("is written");
    let (exit, out, error) = jaconet(home.path(), &["drift", "cover.kdl", "--report", "json"]);
    assert_eq!(exit, 0, "{error}");
    let report: Value = serde_json::from_str(&out).expect("is JSON");
    let cover = &report["covers"][0];
    let pictures: Vec<&str> = cover["pictures"].as_array().expect("a list").iter().filter_map(Value::as_str).collect();
    assert_eq!(pictures.len(), 7, "{pictures:?}");
    for picture in pictures {
        let bytes = std::fs::read(home.path().join(picture)).expect("is written");
        assert_eq!(bytes[..8], *b"\x89PNG\r\n\x1a\n", "{picture}");
    }
    let findings = cover["findings"].as_array().expect("a list");
    assert_eq!((findings.len(), findings[0]["rule"].as_str()), (1, Some("drift")), "{findings:#?}");
    // What drift would show is no fault of an ordinary check.
    let (_, out, _) = jaconet(home.path(), &["check", "cover.kdl", "--report", "json"]);
    let check: Value = serde_json::from_str(&out).expect("is JSON");
    let all = check["covers"][0]["findings"].as_array().expect("a list");
    assert!(all.iter().all(|finding| finding["rule"] != "drift"), "{all:#?}");
}

#[test]
fn a_waiver_answers_it_and_limits_widen_it() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let severity = |own: &str| {
        std::fs::write(home.path().join("cover.kdl"), format!("{COVER}{own}")).expect("is written");
        let (_, out, error) = jaconet(home.path(), &["drift", "cover.kdl", "--report", "json"]);
        let report: Value = serde_json::from_str(&out).unwrap_or_else(|fault| panic!("{fault}: {out}{error}"));
        report["covers"][0]["findings"][0]["severity"].as_str().map(str::to_owned)
    };
    assert_eq!(severity("").as_deref(), Some("warning"));
    assert_eq!(severity("waive drift reason=\"the printer cuts one by one\"\n").as_deref(), Some("note"));
    assert_eq!(severity("limit drift cut=0.2 fold=0.2\n"), None);
}
