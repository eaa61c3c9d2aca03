//! PDF/X-1a:2003, as others read it: the same plates as PDF/X-4, nothing in it that the standard does not know, letters where
//! nothing transparent lies over them.

use crate::agreement::{Agreement, Pair};
use crate::inks::{Plates, differences};
use crate::kit::{Built, ask, cover, shown};
use crate::patches::{PATCHES, files, middle, text};
use crate::plates::separated;
use crate::python::python;

const NAME: &str = "PDF/X-1a:2003";
const DELIVER: &str = "\ndeliver { press bleed standard=x-1a }\n";

/// Every way to mix on one front: words and a spot under a thinned band, another that lies across its corner, words beside
/// both, a picture that fades, multiplied words, and over them words, a foil and a fine line.
const VEILED: &str = "book { title \"Veils\"; author \"A. Reader\"; language en-GB; pages 40 state=confirmed }
format stapled { trim 105 148; paper caliper=0.1; bleed 3; safe 5 }
press coated ink-limit=400
swatches {
    swatch night c=92 m=74 y=38 k=42
    swatch haze c=20 m=10
    swatch rose c=10 m=60 y=20
    spot red ink=\"House red\" c=10 m=95 y=80 k=2
    spot foil ink=\"Silver foil\" c=10 m=8 y=8 k=30 finishing=foil
}
panel front {
    band ground { gradient night haze angle=90; left fold; right bleed; top bleed; bottom bleed }
    band stripe { swatch red; left 10; width 60; top 20; height 30 }
    text under words=\"Under the veil\" { left 12; width 60; top 25; size 18 }
    text corner words=\"Beside both\" { left 64; width 36; top 26; size 16 }
    band veil { swatch haze; opacity 60; left 20; width 40; top 18; height 50 }
    band across { swatch rose; opacity 50; left 55; width 45; top 62; height 10 }
    image fade file=\"fade.png\" { left 10; width 60; top 80; height 30; fit filling }
    text mixed words=\"Mixed words\" { left 15; width 60; top 84; size 24; blend multiply; swatch rose }
    text over words=\"Over all of it\" { left 22; width 60; top 40; size 20 }
    oval seal { swatch foil; left 40; width 12; top 50; height 12 }
    band line { swatch black; left 10; width 70; top 60; height 0.2 }
}
";

fn veiled(name: &str, deliver: &str) -> Built {
    let fade = image::RgbaImage::from_fn(400, 200, |x, _| image::Rgba([40, 90, 60, (x * 255 / 399) as u8]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    fade.write_to(&mut bytes, image::ImageFormat::Png).expect("a picture becomes a PNG");
    cover(name, &format!("{VEILED}{deliver}"), &[("fade.png", &bytes.into_inner())], &["--only", "press"])
}

fn patches() -> Built {
    let files = files();
    let files: Vec<(&str, &[u8])> = files.iter().map(|(name, bytes)| (*name, bytes.as_slice())).collect();
    cover("flat-patches", &format!("{}{DELIVER}", text("")), &files, &["--only", "press"])
}

/// A cover without a picture of its own, whatever else is on it, has none after it was made for this standard.
fn opaque() -> Built {
    let veils = |line: &&str| ["fade.png", "opacity", "blend"].into_iter().all(|word| !line.contains(word));
    let text = VEILED.lines().filter(veils).collect::<Vec<_>>().join("\n");
    cover("flat-opaque", &format!("{text}{DELIVER}"), &[], &["--only", "press"])
}

#[test]
fn it_is_what_it_says_and_holds_nothing_else() {
    for built in [patches(), veiled("flat-veiled", DELIVER), opaque()] {
        let press = shown(&built.press());
        let stated = ask("qpdf", &["--check", &press]);
        assert!(
            stated.contains("PDF Version: 1.4") && stated.contains("No syntax or stream encoding errors"),
            "{stated}"
        );
        let stated = ask("pdfinfo", &[&press]);
        let subtype = stated.lines().find(|line| line.starts_with("PDF subtype:")).unwrap_or_default();
        assert!(subtype.contains(NAME), "{stated}");
        python("rules.py", &[&press, NAME]);
        let composed = python("flat.py", &[&press]).contains("picture");
        assert_eq!(composed, built.stem != "flat-opaque");
    }
}

#[test]
fn the_rules_see_every_damage() {
    let built = veiled("flat-damaged", DELIVER);
    let stated = python("damage.py", &[&shown(&built.press()), &built.beside("damaged.pdf"), NAME]);
    assert_eq!(stated.matches("seen: ").count(), 14, "{stated}");
}

/// Opacity, multiply, overprint and pictures, field by field, in percent of each plate.
#[test]
fn every_patch_reads_back() {
    let sheet = separated(&patches(), 5, 1);
    let mut wrong = Vec::new();
    for (at, patch) in PATCHES.iter().enumerate() {
        let plates: Plates<'_> = patch.plates;
        wrong.extend(differences(&sheet, patch.name, middle(at), plates));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn its_plates_are_those_of_the_other_standard() {
    let [flat, mixed] = [("flat-veiled", DELIVER), ("mixed-veiled", "deliver { press bleed }")]
        .map(|(name, deliver)| separated(&veiled(name, deliver), 5, 4));
    assert_eq!((flat.width, flat.height), (mixed.width, mixed.height));
    assert_eq!(flat.planes.keys().collect::<Vec<_>>(), mixed.planes.keys().collect::<Vec<_>>());
    let pairs: Vec<Pair<'_>> = flat
        .planes
        .iter()
        .map(|(plate, ours)| Pair {
            ours,
            our_width: flat.width,
            theirs: &mixed.planes[plate],
            their_width: mixed.width,
        })
        .collect();
    let agreement = Agreement::of(&pairs, (flat.width, flat.height), &[], 10);
    assert!(agreement.worst <= 2 && agreement.edges < 0.25, "{agreement:?}");
}

#[test]
fn words_over_a_veil_are_letters_and_words_in_one_can_be_read() {
    let (flat, mixed) = (veiled("flat-veiled", DELIVER), veiled("mixed-veiled", "deliver { press bleed }"));
    let order = python("flat.py", &[&shown(&flat.press())]);
    let order: Vec<&str> = order.lines().collect();
    // The veil, 40 × 50 mm, with the stripe's spot; the one across its corner, 45 × 10 mm, apart, so that the words beside
    // both are in neither; then the fading picture and the words that are multiplied with it.
    assert!(
        order[2].starts_with("picture 71") && order[2].ends_with("Cyan+Magenta+Yellow+Black+House_red"),
        "{order:?}"
    );
    assert!(order[3].starts_with("picture 799 178"), "{order:?}");
    assert_eq!(
        order.iter().map(|line| &line[..6]).collect::<Vec<_>>(),
        ["text 0", "text 0", "pictur", "pictur", "pictur", "text 3", "text 0"]
    );
    let said = |built: &Built| {
        let said = ask("pdftotext", &["-raw", &shown(&built.press()), "-"]);
        let mut words: Vec<String> = said.split_whitespace().map(str::to_owned).collect();
        words.sort();
        words
    };
    assert_eq!(said(&flat), said(&mixed));
    assert!(said(&flat).contains(&"Mixed".to_owned()));
}
