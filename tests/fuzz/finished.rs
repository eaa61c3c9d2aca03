//! Finished: covers whose words are about what is made of them: screens, shops, proofs, and the book as it stands.

use crate::chance::Chance;
use crate::mutate;
use std::fmt::Write as _;

const BINDINGS: [&str; 7] = ["paperback", "flapped-paperback", "case", "jacket", "stapled", "screen", "paperbakc"];
const POSES: [&str; 7] = ["standing", "behind", "spine-on", "lying", "leaning", "open", "flying"];
const SWATCHES: [&str; 5] = ["black", "unprinted", "sea", "none", "nigth"];

/// A whole cover file, sound in about half of all cases.
pub fn cover(chance: &mut Chance) -> String {
    let mut text = format!(
        "book {{ title \"Salt\"; author \"Mirela Anand\"; pages {} }}\nswatches {{ swatch sea c=90 m=40 }}\n",
        chance.one(&[0, 8, 96, 320, 2000])
    );
    text += &format(chance);
    if chance.below(2) == 0 {
        text += &materials(chance);
    }
    for at in 0..chance.below(4) {
        text += &view(chance, at);
    }
    text += &deliver(chance);
    text += "panel front { ground g { swatch sea }\ntext t words=\"{title}\" { left 5; right 5; top 20; size between 9 40 } }\n";
    if chance.below(3) == 0 {
        text += "panel spine { text s words=\"{title}\" { centre-x 0; width 2 } }\n";
    }
    if chance.below(2) == 0 { mutate::spoil(&text, chance) } else { text }
}

fn format(chance: &mut Chance) -> String {
    let (width, height) = (chance.between(40.0, 200.0), chance.between(60.0, 260.0));
    let pixels = if chance.below(3) == 0 { format!("pixels {}", pair(chance)) } else { String::new() };
    let one = format!("format {} {{ trim {width:.1} {height:.1}; {pixels} }}\n", chance.one(&BINDINGS));
    if chance.below(4) == 0 {
        return format!("{one}edition us {{ format screen {{ pixels {} }} }}\n", pair(chance));
    }
    one
}

fn materials(chance: &mut Chance) -> String {
    let lamination = *chance.one(&["uncoated", "matt", "soft-touch", "gloss", "velvet"]);
    let paper = *chance.one(&["white", "cream", "blue"]);
    let (edges, bands, ribbon) = (*chance.one(&SWATCHES), *chance.one(&SWATCHES), *chance.one(&SWATCHES));
    format!(
        "materials {{ lamination {lamination}; block-paper {paper}; sprayed-edges {edges}; head-bands {bands} black\n\
         ribbon {ribbon} }}\n"
    )
}

fn view(chance: &mut Chance, at: usize) -> String {
    let name = if chance.below(2) == 0 { (*chance.one(&POSES)).to_owned() } else { format!("v{at}") };
    let mut text = format!("view {name} {{ pixels {}\n", pair(chance));
    for _ in 0..chance.below(4) {
        let line = match chance.below(7) {
            0 => format!("pose {}", chance.one(&POSES)),
            1 => format!("camera round={} above={}", number(chance), number(chance)),
            2 => format!("camera distance={}", number(chance)),
            3 => format!("ground {} {}", chance.one(&SWATCHES), chance.one(&SWATCHES)),
            4 => format!("shadow {}", number(chance)),
            5 => format!("mirror {}", number(chance)),
            _ => "layers #true".to_owned(),
        };
        writeln!(text, "{line}").expect("a string takes it");
    }
    text + "}\n"
}

fn deliver(chance: &mut Chance) -> String {
    let mut text = "deliver { flat ppi=40; panels ppi=40\n".to_owned();
    if chance.below(2) == 0 {
        let kind = *chance.one(&["", "jpeg", "png", "gif"]);
        let more = *chance.one(&["", "ratio=crop", "at-most=\"9 KB\"", "at-most=1", "quality=40"]);
        writeln!(text, "shop {} {kind} {more}", pair(chance)).expect("a string takes it");
    }
    if chance.below(2) == 0 {
        let kind = *chance.one(&["clean", "draft", "specimen", "confidential", ""]);
        writeln!(text, "proof {kind} ppi={}", number(chance)).expect("a string takes it");
    }
    if chance.below(2) == 0 {
        writeln!(text, "marked ppi={}", number(chance)).expect("a string takes it");
    }
    text + "}\n"
}

/// Width and height of a picture; most are small, so that many are tried.
fn pair(chance: &mut Chance) -> String {
    let mut side = || if chance.below(12) == 0 { number(chance) } else { (64 + chance.below(400)).to_string() };
    format!("{} {}", side(), side())
}

fn number(chance: &mut Chance) -> String {
    const WILD: [&str; 10] = ["0", "-1", "1e9", "2", "80", "360", "4000", "#nan", "0.001", "\"9\""];
    if chance.below(3) == 0 { (*chance.one(&WILD)).to_owned() } else { chance.below(200).to_string() }
}
