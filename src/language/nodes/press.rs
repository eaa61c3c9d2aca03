//! `press`: the printing condition: whose inks on which paper.
//!
//! ```kdl
//! press coated ink-limit=300
//! ```
//!
//! - `coated`, `uncoated`: bundled conditions (characterised by the open data sets FOGRA39 and FOGRA29). They are made
//!   from published measurements, not from your printer's press: his own profile is the better choice.
//! - `press profile="printer.icc"`: your printer's profile, a CMYK output profile (ICC, class `prtr`); facts may stand in
//!   the path: `profile="{printer}.icc"`.
//! - `condition="…"`: the output condition's name, where your printer's profile does not bring it.
//! - `ink-limit=300`: the most ink on one spot, in percent; without it the profile's own limit, or 300.

use crate::assets::Profile;
use crate::cover::{Facts, Press};
use crate::ground::number;
use crate::language::{Desk, Node, Role, fill_path};
use crate::source::Reader;

pub const NODE: Node = Node { name: "press", source: include_str!("press.rs"), role: Role::Fact(read) };

/// Where neither cover nor profile says more: sheet-fed offset on coated paper. Common practice.
const USUAL_LIMIT: f64 = 3.0;

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    let condition = reader.text_property("condition").map(|condition| condition.value);
    if let Some(path) = reader.text_property("profile") {
        let path = fill_path(desk.findings, &facts.book, &path);
        if let Some(path) = path
            && let Some(bytes) = desk.bytes(&path)
        {
            match desk.darkroom.profile(bytes, condition.as_deref()) {
                Ok(profile) => facts.press.profile = profile,
                Err(fault) => {
                    let help = "a press profile is an ICC profile of class prtr for CMYK; ask the printer for his";
                    reader.error(path.span, format!("{:?}: {}", path.value, fault.0), help);
                }
            }
        }
    } else if let Some(name) = reader.word("a press", Profile::BUNDLED)
        && let Some(profile) = desk.darkroom.press(name.value)
    {
        facts.press.profile = profile;
    }
    let limit = facts.press.profile.ink_limit().unwrap_or(USUAL_LIMIT);
    facts.press = Press { ink_limit: limit, span: reader.span(), profile: facts.press.profile.clone() };
    if let Some(said) = reader.number_property("ink-limit") {
        if (100.0..=400.0).contains(&said.value) {
            facts.press.ink_limit = said.value / 100.0;
        } else {
            let message = format!("an ink limit of {} % cannot be", number(said.value));
            reader.error(said.span, message, "write a number from 100 to 400; 300 is usual on coated paper");
        }
    }
}
