//! Lacking: which letters of a cluster a font does not have.

use crate::assets::Font;
use crate::typeset::marks::parts;

/// The letters of a cluster with an empty glyph that the font lacks: neither has it them, nor all their parts, a letter and
/// its marks. If it is the cluster as a whole that it has no glyph for, all.
pub fn lacking(font: &Font, cluster: &str) -> Vec<char> {
    let has = |letter: char| font.glyph(letter).is_some();
    let lacks = |letter: &char| !has(*letter) && !parts(*letter).all(has);
    let found: Vec<char> = cluster.chars().filter(lacks).collect();
    if found.is_empty() { cluster.chars().collect() } else { found }
}
