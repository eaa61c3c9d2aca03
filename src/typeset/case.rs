//! Capitals as a language writes them: Greek ones without their accents, a Turkish i with its dot, a German ß as SS.
//! The one door to the case mapper.

use icu_casemap::CaseMapper;
use icu_locale_core::LanguageIdentifier;

/// Words in capitals; `language` is a BCP 47 tag.
pub fn upper(words: &str, language: &str) -> String {
    let primary = language.split(['-', '_']).next().unwrap_or_default();
    let language = LanguageIdentifier::try_from_str(primary).unwrap_or(LanguageIdentifier::UNKNOWN);
    CaseMapper::new().uppercase_to_string(words, &language).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn capitals_follow_their_language() {
        // Unicode's SpecialCasing.txt (ß, final sigma, Turkish, Azeri and Lithuanian i); CLDR's el-Upper transform for
        // Greek; Dutch IJ needs no rule where all is capital.
        for (language, words, capitals) in [
            ("el", "Η σιωπή της θάλασσας", "Η ΣΙΩΠΗ ΤΗΣ ΘΑΛΑΣΣΑΣ"),
            ("el", "μαΐου, Ταΐζω, ή εγώ", "ΜΑΪΟΥ, ΤΑΪΖΩ, Ή ΕΓΩ"),
            ("tr", "istanbul ılık", "İSTANBUL ILIK"),
            ("az", "bakı işığı", "BAKI İŞIĞI"),
            ("lt", "i\u{307}\u{301}tak", "I\u{301}TAK"),
            ("de-AT", "Größe der Stille", "GRÖSSE DER STILLE"),
            ("nl", "ijsvogel", "IJSVOGEL"),
            ("en-GB", "office ﬁre", "OFFICE FIRE"),
            ("", "žal", "ŽAL"),
        ] {
            assert_eq!(upper(words, language), capitals, "{language}");
        }
    }
}
