//! Spellings: the words of a text, and by what two spellings of one word are known.

use crate::typeset::{composed, is_combining_mark, unaccented};

/// The words of a text as they stand. What holds figures or is an address is none.
pub fn words(text: &str) -> impl Iterator<Item = String> {
    let is_word = |part: &&str| {
        let address = part.contains('@') || part.contains("//") || part.to_lowercase().starts_with("www.");
        let inner = part.trim_matches(|letter: char| !letter.is_alphanumeric());
        !address && !inner.contains('.') && !inner.chars().any(char::is_numeric)
    };
    let letters = |letter: char| letter.is_alphabetic() || is_combining_mark(letter) || matches!(letter, '\'' | '’');
    let parts = text.split_whitespace().filter(is_word);
    let split = parts.flat_map(move |part| part.split(move |letter| !letters(letter)));
    split.map(|word| composed(word.trim_matches(['\'', '’']))).filter(|word| !word.is_empty())
}

/// Languages and the letters beyond a to z that are their own: words that differ by these may be different words, such as *schon*
/// and *schön*. After the main letters of Unicode CLDR, from memory. Of these only English has none beyond a to z; a
/// language stands here with all of its letters, or not at all.
const OWN_LETTERS: [(&[&str], &str); 19] = [
    (&["en"], ""),
    (&["de", "fi", "et"], "äöüõßšž"),
    (&["sv"], "åäöéà"),
    (&["da", "nb", "nn", "no"], "æøåéèêóòôáàü"),
    (&["is", "fo"], "áðéíóúýþæö"),
    (&["fr"], "àâæçéèêëîïôœùûüÿ"),
    (&["es", "gl", "ca", "eu"], "áàéèíïóòúüñç"),
    (&["it"], "àèéìíîòóùú"),
    (&["pt"], "áâãàçéêíóôõúü"),
    (&["nl", "af"], "áäâàéëêèíïîóöôúüû"),
    (&["pl"], "ąćęłńóśźż"),
    (&["cs", "sk"], "áäčďéěíĺľňóôŕřšťúůýž"),
    (&["hu"], "áéíóöőúüű"),
    (&["ro"], "ăâîșşțţ"),
    (&["tr", "az"], "çğıİöşüâîûə"),
    (&["hr", "sl", "bs"], "čćđšž"),
    (&["lt"], "ąčęėįšųūž"),
    (&["lv"], "āčēģīķļņšūž"),
    (&["eo"], "ĉĝĥĵŝŭ"),
];

/// Words of English that borrowed accents tell apart.
const APART: &[&str] = &["attache", "expose", "lame", "mate", "ore", "pate", "pique", "resume", "rose", "saute"];

/// By what two spellings are known to be of one word: small letters without accents.
pub fn bare(word: &str) -> String {
    unaccented(&word.to_lowercase().replace('’', "'"))
}

/// Whether two spellings of the same bare letters may be two words in a language; of languages that are not listed nobody
/// here knows.
pub fn may_differ(one: &str, other: &str, language: &str) -> bool {
    let language = language.split('-').next().unwrap_or_default().to_lowercase();
    let Some((_, own)) = OWN_LETTERS.iter().find(|(languages, _)| languages.contains(&language.as_str())) else {
        return true;
    };
    let [small, other_small] = [one, other].map(str::to_lowercase);
    let foreign = |word: &str, beside: &str| {
        let strange = |letter: &char| !letter.is_ascii() && *letter != '’' && !own.contains(*letter);
        word.chars().any(|letter| strange(&letter) && !beside.contains(letter))
    };
    let strays = foreign(&small, &other_small) || foreign(&other_small, &small);
    !strays || APART.contains(&bare(one).as_str())
}

/// British and American spellings, to which endings are added. From memory.
const BRITISH_AMERICAN: &[(&str, &str)] = &[
    ("aeroplane", "airplane"),
    ("ageing", "aging"),
    ("analys", "analyz"),
    ("apologis", "apologiz"),
    ("armour", "armor"),
    ("behaviour", "behavior"),
    ("calibre", "caliber"),
    ("cancelled", "canceled"),
    ("catalogue", "catalog"),
    ("centre", "center"),
    ("civilisation", "civilization"),
    ("colour", "color"),
    ("cosy", "cozy"),
    ("counsellor", "counselor"),
    ("defence", "defense"),
    ("endeavour", "endeavor"),
    ("favour", "favor"),
    ("fibre", "fiber"),
    ("flavour", "flavor"),
    ("grey", "gray"),
    ("harbour", "harbor"),
    ("honour", "honor"),
    ("humour", "humor"),
    ("jewellery", "jewelry"),
    ("judgement", "judgment"),
    ("labour", "labor"),
    ("lustre", "luster"),
    ("marvellous", "marvelous"),
    ("mesmeris", "mesmeriz"),
    ("mould", "mold"),
    ("moustache", "mustache"),
    ("neighbour", "neighbor"),
    ("odour", "odor"),
    ("offence", "offense"),
    ("organis", "organiz"),
    ("organisation", "organization"),
    ("parlour", "parlor"),
    ("plough", "plow"),
    ("pyjamas", "pajamas"),
    ("realis", "realiz"),
    ("recognis", "recogniz"),
    ("rigour", "rigor"),
    ("rumour", "rumor"),
    ("saviour", "savior"),
    ("savour", "savor"),
    ("sceptic", "skeptic"),
    ("skilful", "skillful"),
    ("sombre", "somber"),
    ("spectre", "specter"),
    ("splendour", "splendor"),
    ("sulphur", "sulfur"),
    ("theatre", "theater"),
    ("towards", "toward"),
    ("traveller", "traveler"),
    ("travelling", "traveling"),
    ("tumour", "tumor"),
    ("valour", "valor"),
    ("vapour", "vapor"),
    ("vigour", "vigor"),
    ("wilful", "willful"),
    ("woollen", "woolen"),
];

/// Endings that both take alike. With others, such as *humorous* and *humorist*, both are written in one way.
const ENDINGS: &[&str] = &[
    "", "s", "ed", "ing", "er", "ers", "ful", "fully", "less", "able", "ably", "ite", "ites", "y", "ly", "hood", "e",
    "es", "d", "ism", "al", "ally",
];

/// The British spelling by which both are known, and whether an English word has that one: *colorful* is of *colour*, and has
/// not. Words with a capital may be names.
pub fn british_american(word: &str) -> Option<(&'static str, bool)> {
    if word.chars().any(char::is_uppercase) {
        return None;
    }
    let has = |start: &str| word.strip_prefix(start).is_some_and(|end| ENDINGS.contains(&end));
    let of = |is_british: bool| {
        let stem = |pair: &&(&'static str, &'static str)| has(if is_british { pair.0 } else { pair.1 });
        BRITISH_AMERICAN.iter().find(stem).map(|(british, _)| (*british, is_british))
    };
    of(true).or_else(|| of(false))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_a_text() {
        let said: Vec<String> =
            words("“Osselby’s tale”, p. 12: a light-house (http://a.example, info@b.example) in 1994").collect();
        assert_eq!(said, ["Osselby’s", "tale", "p", "a", "light", "house", "in"]);
    }

    #[test]
    fn accents_that_a_language_has_and_has_not() {
        assert_eq!(
            [bare("Sørholm"), bare("Łódź"), bare("Straße"), bare("œuvre")],
            ["sorholm", "lodz", "strasse", "oeuvre"]
        );
        for (one, other, language, wanted) in [
            ("Sørholm", "Sorholm", "en-GB", false),
            ("Sørholm", "Sorholm", "de", false),
            ("Sørholm", "Sorholm", "da", true),
            ("schon", "schön", "de", true),
            ("ou", "où", "fr-CA", true),
            ("rose", "rosé", "en", true),
            ("Café", "Cafe", "en", false),
            ("Sørholm", "Sorholm", "xx", true),
            // Words of languages whose accents tell them apart: hero and heroes, law and pasture, but and those, green and
            // sad, as any dictionary has them.
            ("герой", "герои", "ru", true),
            ("νόμος", "νομός", "el", true),
            ("nhưng", "những", "vi", true),
            ("fear", "féar", "ga", true),
            ("gwyn", "gŵyn", "cy", true),
        ] {
            assert_eq!(may_differ(one, other, language), wanted, "{one} {other} {language}");
        }
    }

    #[test]
    fn one_side_of_the_sea_or_the_other() {
        for (word, wanted) in [
            ("colourful", Some(("colour", true))),
            ("colors", Some(("colour", false))),
            ("catalogue", Some(("catalogue", true))),
            ("realized", Some(("realis", false))),
            ("organisation", Some(("organisation", true))),
            ("humorous", None),
            ("humorist", None),
            ("humorists", None),
            ("moldova", None),
            ("Gray", None),
            ("sea", None),
        ] {
            assert_eq!(british_american(word), wanted, "{word}");
        }
    }
}
