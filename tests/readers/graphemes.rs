//! Graphemes: of any letters of Unicode, each one comes back from the press file or is named as missing from its font.

use crate::chance::Chance;
use crate::kit::{ask, room, shown};
use jaconet::testing::CoverTester;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;
use unicode_normalization::UnicodeNormalization as _;

/// Family and file.
const FONTS: [(&str, &str); 9] = [
    ("EB Garamond", "EBGaramond/EBGaramond-Regular.ttf"),
    ("Amiri", "Amiri/Amiri-Regular.ttf"),
    ("Frank Ruhl Libre", "FrankRuhlLibre/FrankRuhlLibre-Regular.ttf"),
    ("Shippori Mincho", "ShipporiMincho/ShipporiMincho-Regular-JIS0208.ttf"),
    ("Inter", "Inter/InterVariable.ttf"),
    ("Zilla Slab", "ZillaSlab/ZillaSlab-Regular.ttf"),
    ("Alegreya", "Alegreya/Alegreya-Regular.ttf"),
    ("Caveat", "Caveat/Caveat-Regular.ttf"),
    ("Playfair Display", "PlayfairDisplay/PlayfairDisplay-Regular.ttf"),
];

/// Blocks of Unicode from which letters come besides those of the font itself.
const BLOCKS: [(u32, u32); 22] = [
    (0xA0, 0x24F),
    (0x2B0, 0x36F),
    (0x370, 0x52F),
    (0x531, 0x58A),
    (0x5B0, 0x5EA),
    (0x620, 0x6FF),
    (0x900, 0x97F),
    (0xE01, 0xE4E),
    (0x10A0, 0x10FF),
    (0x1100, 0x11FF),
    (0x1780, 0x17D0),
    (0x1E00, 0x1FFF),
    (0x2010, 0x2027),
    (0x2030, 0x205E),
    (0x20A0, 0x20BF),
    (0x2100, 0x21FF),
    (0x3040, 0x30FF),
    (0x4E00, 0x9FFF),
    (0xAC00, 0xD7A3),
    (0xFB00, 0xFB4F),
    (0x1D400, 0x1D7FF),
    (0x1F300, 0x1F64F),
];

const COVERS: usize = 2;
/// Rows and columns of texts on each of two panels.
const ROWS: usize = 46;
const COLUMNS: usize = 2;

struct RandomText {
    font: usize,
    letters: String,
}

/// Letters that show nothing (Default_Ignorable_Code_Point of Unicode's DerivedCoreProperties), and blanks.
fn shows_nothing(letter: char) -> bool {
    letter.is_whitespace()
        || matches!(letter, '\u{AD}' | '\u{34F}' | '\u{61C}' | '\u{115F}'..='\u{1160}' | '\u{17B4}'..='\u{17B5}'
            | '\u{180B}'..='\u{180F}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}'
            | '\u{3164}' | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}' | '\u{FFA0}' | '\u{FFF0}'..='\u{FFF8}'
            | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D173}'..='\u{1D17A}' | '\u{E0000}'..='\u{E0FFF}')
}

/// What a design may hold: no controls and marks of direction, nothing that means something to the language, and not the
/// letters that part one text from the next here.
fn may_stand(letter: char) -> bool {
    !letter.is_control()
        && !"{}[]*_`#<>\\\"|~@&$^!Zq\u{2028}\u{2029}\u{FEFF}".contains(letter)
        && !matches!(letter, '\u{200E}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

fn runs_left(letter: char) -> bool {
    matches!(letter, '\u{590}'..='\u{8FF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFF}' | '\u{1EE00}'..='\u{1EEFF}')
}

fn random_text(chance: &mut Chance, cmaps: &[Vec<char>]) -> RandomText {
    let font = chance.below(FONTS.len());
    let (at_home, count) = (chance.below(5) < 3, 3 + chance.below(7));
    let mut letters = String::new();
    while letters.chars().count() < count {
        let letter = if at_home || chance.below(5) < 4 {
            Some(*chance.one(&cmaps[font]))
        } else {
            let (first, last) = *chance.one(&BLOCKS);
            char::from_u32(first + chance.below((last - first + 1) as usize) as u32)
        };
        // Poppler takes the same mark twice at one place for a letter made bold, and gives it once.
        letters.extend(letter.filter(|letter| may_stand(*letter) && !letters.contains(*letter)));
    }
    if letters.chars().all(shows_nothing) {
        letters.push('a');
    }
    RandomText { font, letters }
}

fn cover_of(texts: &[RandomText]) -> String {
    let mut cover = "book { title \"Any\"; author \"A. Reader\"; language en-GB; pages 200 state=confirmed }
        format paperback { trim 210 297; paper caliper=0.1; cover-stock caliper=0.3; bleed 3; safe 5 }
        type { style plain { size 8; hyphenate #false; align left } }\n"
        .to_owned();
    for (panel, texts) in ["front", "back"].into_iter().zip(texts.chunks(ROWS * COLUMNS)) {
        writeln!(cover, "panel {panel} {{").expect("writes");
        for (at, RandomText { font, letters }) in texts.iter().enumerate() {
            let (left, top) = (5 + 100 * (at / ROWS), 8 + 6 * (at % ROWS));
            let escaped = letters.chars().fold(String::new(), |mut escaped, letter| {
                write!(escaped, "\\u{{{:X}}}", u32::from(letter)).expect("writes");
                escaped
            });
            let family = FONTS[*font].0;
            write!(
                cover,
                "text m{at} words=\"Zq{panel}{at}qZ\" style=plain {{ left {left}; top {top}; width 18; font \"Libre Franklin\" }}
                text {panel}{at} words=\"{escaped}\" style=plain {{ left {}; top {top}; width 75; font {family:?} }}\n",
                left + 20
            )
            .expect("writes");
        }
        cover.push_str("}\n");
    }
    cover
}

/// The letters that `missing-glyph` names, by the element.
fn named(messages: impl Iterator<Item = String>) -> BTreeMap<String, BTreeSet<char>> {
    let mut named = BTreeMap::<String, BTreeSet<char>>::new();
    for message in messages {
        let element = message.split('`').nth(1).expect("an element is named").to_owned();
        let codes = message.split("(U+").skip(1).filter_map(|part| part.split(')').next());
        let letters = codes.map(|code| u32::from_str_radix(code, 16).ok().and_then(char::from_u32).expect("a code"));
        named.entry(element).or_default().extend(letters);
    }
    named
}

/// Poppler reads the letters; what a font has, ttf-parser reads. A text without letters that run to the left comes back in
/// its order, another with all its letters.
#[test]
fn every_letter_that_a_font_has_comes_back_and_every_other_is_named() {
    let home = Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-open");
    let fonts = FONTS.map(|(_, file)| std::fs::read(home.join(file)).expect("a font is there"));
    let cmaps: Vec<Vec<char>> = fonts
        .iter()
        .map(|bytes| {
            let face = ttf_parser::Face::parse(bytes, 0).expect("a font");
            let mut all = BTreeSet::new();
            for table in face.tables().cmap.expect("a table of letters").subtables {
                if table.is_unicode() {
                    table.codepoints(|code| {
                        all.extend(char::from_u32(code).filter(|_| table.glyph_index(code).is_some()));
                    });
                }
            }
            all.into_iter().collect()
        })
        .collect();
    let (mut chance, trial) = (Chance::new(12), CoverTester::default());
    let (mut came_back, mut lacked, mut leftwards) = (0, 0, 0);
    for round in 0..COVERS {
        let texts: Vec<RandomText> = (0..2 * ROWS * COLUMNS).map(|_| random_text(&mut chance, &cmaps)).collect();
        let tested = trial.checked(&cover_of(&texts), []);
        let missing = tested.notes.iter().filter(|note| note.rule == "missing-glyph");
        let named = named(missing.map(|note| note.message.clone()));
        let file = room().join(format!("graphemes-{round}.pdf"));
        std::fs::create_dir_all(room()).expect("makes a folder");
        std::fs::write(&file, trial.press(&tested.scene.expect("a cover"))).expect("writes the press file");
        let stated = ask("pdftotext", &["-raw", &shown(&file), "-"]);
        let parts: BTreeMap<&str, &str> = stated.split("Zq").filter_map(|part| part.split_once("qZ")).collect();
        for (at, RandomText { font, letters }) in texts.iter().enumerate() {
            let name = format!("{}{}", ["front", "back"][at / (ROWS * COLUMNS)], at % (ROWS * COLUMNS));
            let told = named.get(&name).cloned().unwrap_or_default();
            let has = |letter: char| cmaps[*font].binary_search(&letter).is_ok();
            for letter in letters.chars().filter(|letter| !shows_nothing(*letter)) {
                // A letter may be made of its parts, and of two of them a letter that the font has; the hyphen that does not
                // break is drawn as the one that does.
                let hyphen = letter == '\u{2011}' && has('\u{2010}');
                let whole = has(letter) || hyphen || std::iter::once(letter).nfd().all(has);
                let composed = letters.nfc().all(|other| other != letter);
                let fits = if whole { !told.contains(&letter) } else { composed || told.contains(&letter) };
                assert!(fits, "{name} {letters:?} in {}: {letter:?}, named {told:?}", FONTS[*font].0);
            }
            let shown = |text: &str| -> Vec<char> {
                text.chars().filter(|letter| !shows_nothing(*letter) && !told.contains(letter)).collect()
            };
            let (mut wanted, mut read) = (shown(letters), shown(parts.get(&*name).copied().unwrap_or_default()));
            if letters.chars().any(runs_left) {
                wanted.sort_unstable();
                read.sort_unstable();
                leftwards += 1;
            }
            assert_eq!(wanted, read, "{name} {letters:?} in {}", FONTS[*font].0);
            came_back += wanted.len();
            lacked += told.len();
        }
    }
    assert!(came_back > 1_600 && lacked > 100 && leftwards > 50, "{came_back} {lacked} {leftwards}");
}
