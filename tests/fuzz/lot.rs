//! Lot: one case drawn from the corpus by a seed.

use crate::case::Case;
use crate::chance::Chance;
use crate::corpus::Corpus;
use crate::{bytes, drawings, finished, mutate, texts};
use std::collections::BTreeMap;

const BUILD: [&str; 2] = ["build", "book"];
const COVER: &str = "book/cover.kdl";

pub fn draw(corpus: &Corpus, seed: u64) -> Case {
    let mut chance = Chance::new(seed);
    // The first numbers of neighbouring seeds are neighbours.
    (0..8).for_each(|_| _ = chance.next());
    let chance = &mut chance;
    match chance.below(14) {
        0 | 1 => cover(corpus, seed, chance),
        2 => list(corpus, seed, chance),
        3 => store(corpus, seed, chance),
        4 => arguments(corpus, seed, chance),
        5 => {
            let text = texts::copy(chance.one::<Vec<u8>>(&corpus.copies), chance);
            made(
                "copy",
                seed,
                "text t copy=\"a.md\" { left 5; width 45; top 5; bottom 5; size between 4 20 }",
                [("book/a.md", text)],
            )
        }
        6 | 7 => {
            let text = if chance.below(5) == 0 {
                let mut bytes = chance.one(&corpus.drawings).clone();
                bytes::spoil(&mut bytes, chance);
                bytes
            } else {
                drawings::drawn(chance).into_bytes()
            };
            made("drawing", seed, "image a file=\"a.svg\" { left 5; width 45; top 5 }", [("book/a.svg", text)])
        }
        8 => {
            let (family, font) = chance.one(&corpus.fonts);
            let mut font = font.clone();
            bytes::spoil(&mut font, chance);
            let text =
                format!("text t words=\"Salt & Lanterns: fi 1234\" {{ left 5; width 45; top 5; font {family:?} }}");
            made("font", seed, &text, [("book/fonts/a.ttf", font)])
        }
        9 => {
            let mut profile = chance.one(&corpus.profiles).clone();
            bytes::spoil(&mut profile, chance);
            let mut case =
                made("profile", seed, "image a file=\"a.png\" { left 5; width 45; top 5 }", [("book/a.icc", profile)]);
            let png = corpus.png();
            case.files.insert("book/a.png".to_owned(), png.clone());
            let text = case.files.get_mut(COVER).expect("it has a cover");
            text.extend_from_slice(b"press profile=\"a.icc\"\n");
            case
        }
        10 | 11 => {
            let files = [(COVER.to_owned(), finished::cover(chance).into_bytes())];
            Case::new(format!("finished-{seed}"), files.into(), &[&BUILD])
        }
        _ => picture(corpus, seed, chance),
    }
}

fn made<const N: usize>(kind: &str, seed: u64, body: &str, beside: [(&str, Vec<u8>); N]) -> Case {
    let text = format!(
        "book {{ title \"Salt\"; author \"Mirela Anand\"; pages 96 }}\nformat paperback {{ trim 60 90 }}\n\
         deliver {{ flat ppi=40; panels ppi=40 }}\npanel front {{ {body} }}\n"
    );
    let mut files: BTreeMap<String, Vec<u8>> = beside.map(|(path, bytes)| (path.to_owned(), bytes)).into();
    files.insert(COVER.to_owned(), text.into_bytes());
    Case::new(format!("{kind}-{seed}"), files, &[&BUILD])
}

fn picture(corpus: &Corpus, seed: u64, chance: &mut Chance) -> Case {
    let (name, picture) = chance.one(&corpus.pictures);
    let mut picture = picture.clone();
    bytes::spoil(&mut picture, chance);
    let ending = name.rsplit('.').next().unwrap_or_default();
    if ending == "png" && chance.below(4) > 0 {
        bytes::summed(&mut picture);
    }
    let body = format!("image a file=\"a.{ending}\" {{ left 5; width 45; top 5 }}");
    made("picture", seed, &body, [(&format!("book/a.{ending}"), picture)])
}

fn cover(corpus: &Corpus, seed: u64, chance: &mut Chance) -> Case {
    let mut files = chance.one(&corpus.covers).clone();
    let text = files.get_mut(COVER).expect("it has a cover");
    let mut stated = String::from_utf8_lossy(text).into_owned();
    for _ in 0..=chance.below(4) {
        if !stated.is_empty() {
            stated = mutate::spoil(&stated, chance);
        }
    }
    *text = stated.into_bytes();
    if chance.below(6) == 0 {
        bytes::spoil(text, chance);
    }
    let run = if chance.below(3) == 0 { BUILD } else { ["check", "book"] };
    Case::new(format!("cover-{seed}"), files, &[&run])
}

fn list(corpus: &Corpus, seed: u64, chance: &mut Chance) -> Case {
    let table = texts::table(chance.one::<String>(&corpus.tables), chance);
    let as_objects = chance.below(3) == 0;
    let (name, mut table) = if as_objects { ("t.json", texts::objects(&table)) } else { ("t.csv", table) };
    if as_objects && chance.below(2) == 0 {
        bytes::spoil(&mut table, chance);
    }
    let catalogue = format!("catalogue {{ template \"t.kdl\"; titles {name:?} }}\n");
    let template = "book { pages 96 }\nformat paperback { trim 60 90 }\npanel front { text t words=\"{title}\" { left 5; right 5; top 5 } }\n";
    let files = [
        ("book/catalogue.kdl".to_owned(), catalogue.into_bytes()),
        ("book/t.kdl".to_owned(), template.as_bytes().to_vec()),
        (format!("book/{name}"), table),
    ];
    Case::new(format!("list-{seed}"), files.into(), &[&["check", "book/catalogue.kdl"]])
}

fn store(corpus: &Corpus, seed: u64, chance: &mut Chance) -> Case {
    let body = "image a file=\"a.png\" { left 5; width 45; top 5 }\ntext t words=\"Salt and Lanterns\" { left 5; width 45; top 60 }";
    let png = corpus.png();
    let mut case = made("store", seed, body, [("book/a.png", png.clone())]);
    let run: Vec<String> = ["build", "book", "--store", "store"].map(str::to_owned).into();
    case.typed.runs = vec![run.clone(), run];
    case.typed.spoiled = Some(chance.next());
    case
}

fn arguments(corpus: &Corpus, seed: u64, chance: &mut Chance) -> Case {
    let files = corpus.covers[0].clone();
    let mut case = Case::new(format!("arguments-{seed}"), files, &[]);
    case.typed.runs = (0..4).map(|_| texts::typed(chance)).collect();
    case
}
