//! Hyphens: words part by a file of patterns as another hyphenator parts them by the same ones.

use crate::python::python;
use jaconet::testing::parted_by;
use serde_json::Value;

/// pyphen, with its dictionaries of languages whose patterns we do not bundle, in the form that a house would bring.
#[test]
fn a_house_s_patterns_part_words_as_another_hyphenator_does() {
    let mut languages = 0;
    for line in python("hyphens.py", &[]).lines() {
        let stated: Value = serde_json::from_str(line).expect("a line of JSON");
        let text = |value: &Value| value.as_str().map(str::to_owned).expect("a text");
        let (language, patterns) = (text(&stated["language"]), text(&stated["patterns"]));
        let words = stated["words"].as_array().expect("words");
        let plain: Vec<String> = words.iter().map(|word| text(&word[0])).collect();
        let ours = parted_by(&patterns, &plain.iter().map(String::as_str).collect::<Vec<_>>()).expect("patterns");
        assert!(words.len() > 300, "{language} {}", words.len());
        for ((word, theirs), ours) in plain.iter().zip(words).zip(ours) {
            let letters: Vec<u64> = ours.iter().map(|at| word[..*at].chars().count() as u64).collect();
            let theirs: Vec<u64> = theirs[1].as_array().expect("places").iter().filter_map(Value::as_u64).collect();
            assert_eq!(letters, theirs, "{language} {word}");
        }
        languages += 1;
    }
    assert_eq!(languages, 6);
}
