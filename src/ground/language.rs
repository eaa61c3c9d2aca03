//! Languages whose script runs from right to left, and those whose books are bound on either side.

/// Main languages (ISO 639) that are written so by custom: Arabic, Hebrew, Persian, Urdu, Yiddish, Pashto, Sindhi, Uyghur,
/// Kurdish (Sorani), Kashmiri, Luri, Mazanderani, Dhivehi, Syriac, N'Ko. From memory of Unicode's CLDR.
const LANGUAGES: [&str; 17] =
    ["ar", "ckb", "dv", "fa", "he", "iw", "ji", "ks", "lrc", "mzn", "nqo", "ps", "sd", "syr", "ug", "ur", "yi"];
/// Scripts (ISO 15924) that run so, for a language that is written in several.
const SCRIPTS: [&str; 9] = ["Adlm", "Arab", "Aran", "Hebr", "Mand", "Nkoo", "Rohg", "Syrc", "Thaa"];

/// Whether text under this tag (BCP 47) runs from right to left.
pub fn right_to_left(tag: &str) -> bool {
    let mut parts = tag.split('-');
    let language = parts.next().unwrap_or_default();
    let is_in = |list: &[&str], part: &str| list.iter().any(|known| known.eq_ignore_ascii_case(part));
    match parts.find(|part| part.len() == 4 && part.bytes().all(|letter| letter.is_ascii_alphabetic())) {
        Some(script) => is_in(&SCRIPTS, script),
        None => is_in(&LANGUAGES, language),
    }
}

/// Whether books under this tag are bound on the left or on the right, so that the tag alone does not tell: Japanese, and
/// Chinese in traditional characters. Common practice, from memory.
pub fn bound_either_way(tag: &str) -> bool {
    let mut parts = tag.split('-');
    let language = parts.next().unwrap_or_default();
    let traditional = |part: &str| ["hant", "tw", "hk", "mo"].iter().any(|known| known.eq_ignore_ascii_case(part));
    language.eq_ignore_ascii_case("ja") || language.eq_ignore_ascii_case("zh") && parts.any(traditional)
}

#[cfg(test)]
mod tests {
    use super::{bound_either_way, right_to_left};

    #[test]
    fn the_script_decides_before_the_language() {
        assert!(["ar", "he", "HE", "fa-IR", "ckb", "uz-Arab", "pa-arab-PK", "yi-1901"].into_iter().all(right_to_left));
        assert!(["ja", "ja-JP", "zh-Hant", "zh-TW"].into_iter().all(bound_either_way));
        assert!(!["he", "zh", "zh-Hans-CN", "ko", "jav"].into_iter().any(bound_either_way));
        assert!(!["", "en", "heb", "az", "uz", "he-Latn", "sd-Deva", "ja", "é"].into_iter().any(right_to_left));
    }
}
