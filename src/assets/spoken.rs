//! Spoken: languages that a font has all letters for.

use crate::assets::Font;

/// Languages and the letters that they need beside those of their script's first line here. From the main exemplar
/// characters of CLDR, from memory; loan letters are left out.
const LANGUAGES: &[(&str, &str)] = &[
    ("Albanian", "çë"),
    ("Arabic", "ءآأؤإئابةتثجحخدذرزسشصضطظعغفقكلمنهوىي"),
    ("Basque", "ñ"),
    ("Bulgarian", "абвгдежзийклмнопрстуфхцчшщъьюя"),
    ("Catalan", "àçéèíïóòúü"),
    ("Croatian", "čćđšž"),
    ("Czech", "áčďéěíňóřšťúůýž"),
    ("Danish", "æøå"),
    ("Dutch", "äëïöüáéíóú"),
    ("English", "abcdefghijklmnopqrstuvwxyz"),
    ("Estonian", "äõöüšž"),
    ("Finnish", "åäö"),
    ("French", "àâæçéèêëîïôœùûüÿ"),
    ("German", "äöüß"),
    ("Greek", "αάβγδεέζηήθιίϊΐκλμνξοόπρσςτυύϋΰφχψωώ"),
    ("Hebrew", "אבגדהוזחטיךכלםמןנסעףפץצקרשת"),
    ("Hungarian", "áéíóöőúüű"),
    ("Icelandic", "áðéíóúýþæö"),
    ("Irish", "áéíóú"),
    ("Italian", "àéèìòù"),
    ("Japanese", "あいうえおかきくけこアイウエオカキクケコ一二三人日本大小中国"),
    ("Latvian", "āčēģīķļņšūž"),
    ("Lithuanian", "ąčęėįšųūž"),
    ("Norwegian", "æøåàéò"),
    ("Polish", "ąćęłńóśźż"),
    ("Portuguese", "ãáâàçéêíõóôú"),
    ("Romanian", "ăâîșț"),
    ("Russian", "абвгдеёжзийклмнопрстуфхцчшщъыьэюя"),
    ("Slovak", "áäčďéíĺľňóôŕšťúýž"),
    ("Slovenian", "čšž"),
    ("Spanish", "áéíñóúü¿¡"),
    ("Swedish", "åäöé"),
    ("Turkish", "çğıİöşü"),
    ("Ukrainian", "абвгґдеєжзиіїйклмнопрстуфхцчшщьюя"),
    ("Vietnamese", "ăâđêôơưạảấầẩẫậắằẳẵặẹẻẽếềểễệỉịọỏốồổỗộớờởỡợụủứừửữựỳỵỷỹ"),
    ("Welsh", "âêîôûŵŷ"),
];

impl Font {
    /// The languages whose letters it has, by their English names.
    pub fn languages(&self) -> Vec<&'static str> {
        let latin = ('a'..='z').chain('A'..='Z').all(|letter| self.glyph(letter).is_some());
        let has = |letters: &str| {
            let upper = letters.chars().flat_map(char::to_uppercase);
            let needed = |letter: &char| *letter != '\u{307}' && *letter != '\u{308}' && *letter != '\u{301}';
            let of_latin = letters
                .chars()
                .next()
                .is_some_and(|first| first < '\u{370}' || ('\u{1e00}'..'\u{2000}').contains(&first));
            (latin || !of_latin)
                && letters.chars().chain(upper).filter(needed).all(|letter| self.glyph(letter).is_some())
        };
        LANGUAGES.iter().filter(|(_, letters)| has(letters)).map(|(name, _)| *name).collect()
    }
}

#[cfg(test)]
mod tests {
    use crate::assets::Library;

    /// What the makers of the fonts say of them (their pages, from memory): Latin, Greek and Cyrillic, or a single script.
    #[test]
    fn the_bundled_fonts_speak_as_their_makers_say() {
        let (library, _) = Library::open(&[]);
        let speaks = |family: &str, language: &str| library.faces(family)[0].languages().contains(&language);
        for (family, language, speaks_it) in [
            ("EB Garamond", "Greek", true),
            ("EB Garamond", "Russian", true),
            ("EB Garamond", "Polish", true),
            ("EB Garamond", "Hebrew", false),
            ("Amiri", "Arabic", true),
            ("Amiri", "Greek", false),
            ("Frank Ruhl Libre", "Hebrew", true),
            ("Shippori Mincho", "Japanese", true),
            ("Inter", "Ukrainian", true),
            ("League Gothic", "Russian", false),
            ("League Gothic", "English", true),
        ] {
            assert_eq!(speaks(family, language), speaks_it, "{family} {language}");
        }
    }
}
