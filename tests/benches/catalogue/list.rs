//! List: the titles of the catalogue, drawn at random, the template they share, and their files.

use super::chance::Chance;
use super::picture;
use std::fmt::Write as _;
use std::path::Path;
use std::{fs, thread};

const TEMPLATE: &str = r#"book {
    publisher "Sorrel & Stave"
    fact picture ""
}
format paperback {
    trim 129 198
    paper grammage=80 bulk=1.6
    cover-stock caliper=0.3
    bleed 3
    safe 5
}
press coated ink-limit=300
swatches {
    swatch ground k=90
    swatch side c=1 m=2 y=7 k=0
}
type {
    style title { font "EB Garamond"; size between 24 46; leading 45; swatch side; align start; hyphenate #false }
    style author { font "Libre Franklin" weight=medium; size 13; leading 16; swatch side; align start }
    style spine { font "EB Garamond" weight=semibold; size between 9 15; swatch side; align start; hyphenate #false }
    style blurb { font "EB Garamond"; size 12; leading 15.5; indent 14; swatch side; align justify }
}
wrap {
    band sides { swatch ground; left bleed; right bleed; top bleed; bottom bleed }
}
panel front {
    image plate file="art/{picture}.jpg" { left fold -1.5; right bleed; top bleed; bottom bleed; fit filling }
    band label { swatch ground; left fold -1.5; right bleed; top 18; height 66 }
    text author words="{author}" style=author { left 12; right 12; top 24 }
    text title words="{title}" style=title { left 12; right 12; top 34; height 46 }
}
panel spine {
    reads auto
    text spine-title words="{title}" style=spine { head 13; foot 60; across safe }
}
panel back {
    text blurb copy="blurbs/{stem}.md" style=blurb { left 14; right 14; top 18; height 110 }
    barcode barcode { right safe; bottom safe; scale 90 }
}
"#;

const FIRST: [&str; 12] = [
    "Salt", "Lanterns", "Orchards", "Winter", "Rivers", "Letters", "Clocks", "Harbours", "Swifts", "Pears", "Moths",
    "Stairs",
];
const SECOND: [&str; 12] = [
    "of the North",
    "at Low Tide",
    "in November",
    "under Glass",
    "for Nobody",
    "by Candlelight",
    "of Small Towns",
    "after Rain",
    "without Maps",
    "of Iron",
    "on Sundays",
    "at the Border",
];
const NAMES: [&str; 8] = [
    "Isla Corran",
    "Edwin Pallister",
    "Rosa Tamm",
    "Corin Ashdale",
    "Mette Lundrose",
    "Aron Weissdorn",
    "Ines Pradolin",
    "Jan Sobolec",
];

/// Writes the whole catalogue into a folder.
pub fn lay_out(folder: &Path, covers: usize) {
    for inner in ["art", "blurbs"] {
        fs::create_dir_all(folder.join(inner)).expect("a folder can be made");
    }
    let write = |name: &str, text: &str| fs::write(folder.join(name), text).expect("a file can be written");
    write("template.kdl", TEMPLATE);
    write("catalogue.kdl", "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n");
    let mut chance = Chance::new(7);
    let mut table = "stem,title,author,pages,isbn,picture\n".to_owned();
    for title in 0..covers {
        let stem = format!("title-{title:04}");
        let name = format!("{} {}, {title}", chance.one(&FIRST), chance.one(&SECOND));
        let author = *chance.one(&NAMES);
        let (pages, plate) = (160 + 2 * chance.below(300), chance.below(picture::COUNT));
        writeln!(table, "{stem},\"{name}\",{author},{pages},{},plate-{plate:02}", isbn(title)).expect("a string grows");
        let blurb: Vec<String> = (0..4).map(|_| chance.prose()).collect();
        write(&format!("blurbs/{stem}.md"), &(blurb.join(".\n\n") + ".\n"));
    }
    write("titles.csv", &table);
    let threads = thread::available_parallelism().map_or(1, usize::from);
    thread::scope(|scope| {
        for first in 0..threads {
            let art = folder.join("art");
            scope.spawn(move || {
                for plate in (first..picture::COUNT).step_by(threads) {
                    picture::write(&art.join(format!("plate-{plate:02}.jpg")), plate as u64 + 1);
                }
            });
        }
    });
}

/// ISBN-13 with its check digit (ISO 2108: weights 1 and 3, modulo 10), under a publisher's prefix of four digits.
fn isbn(title: usize) -> String {
    let body = format!("97814028{title:04}");
    let sum: u32 =
        body.bytes().zip([1, 3].into_iter().cycle()).map(|(digit, weight)| u32::from(digit - b'0') * weight).sum();
    format!("978-1-4028-{title:04}-{}", (10 - sum % 10) % 10)
}
