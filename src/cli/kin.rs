//! Kin: the faces of a family, and what they say of themselves.

use crate::assets::{Font, FontAxis};
use crate::ground::number;
use serde_json::{Value, json};
use std::sync::Arc;

/// The faces of a family.
pub struct Kin<'a> {
    pub family: &'a str,
    pub faces: Vec<Arc<Font>>,
}

impl Kin<'_> {
    /// What all its faces have.
    fn common<T: PartialEq + Copy>(&self, of: impl Fn(&Font) -> Vec<T>) -> Vec<T> {
        let mut faces = self.faces.iter();
        let first = faces.next().map(|font| of(font)).unwrap_or_default();
        faces.fold(first, |common, font| {
            let own = of(font);
            common.into_iter().filter(|one| own.contains(one)).collect()
        })
    }

    /// The features that one of its upright faces has, or one of all its faces.
    pub fn features(&self) -> Vec<String> {
        let mut tags: Vec<[u8; 4]> = self.faces.iter().flat_map(|font| font.features().to_vec()).collect();
        tags.sort_unstable();
        tags.dedup();
        tags.iter().map(|tag| shown(*tag)).collect()
    }

    /// What there is of it, in lines for people.
    pub fn text(&self) -> String {
        let weight = |font: &Arc<Font>| {
            let weights = font.weights().filter(|(least, most)| least < most);
            weights.map_or(font.weight().to_string(), |(least, most)| format!("{least} to {most}"))
        };
        let of = |italic: bool| {
            let faces = self.faces.iter().filter(|font| font.italic() == italic).map(weight);
            faces.collect::<Vec<String>>().join(", ")
        };
        let (upright, italic) = (of(false), of(true));
        let axes = self.common(Font::axes).iter().map(axis).collect::<Vec<String>>().join(", ");
        let lines = [
            ("weights", upright),
            ("italic", italic),
            ("axes", axes),
            ("languages", self.common(Font::languages).join(", ")),
            ("features", self.features().join(" ")),
            ("embedding", self.embedding().to_owned()),
        ];
        let lines = lines.into_iter().filter(|(_, words)| !words.is_empty());
        lines.fold(format!("{}\n", self.family), |all, (name, words)| all + &folded(name, &words))
    }

    /// What the font says of its embedding, the strictest of all faces.
    fn embedding(&self) -> &'static str {
        let any = |of: fn(&Font) -> bool| self.faces.iter().any(|font| of(font));
        if any(|font| font.embedding().restricted) {
            "forbidden without the maker's leave"
        } else if any(|font| font.embedding().bitmap_only) {
            "bitmaps only: it is drawn as outlines"
        } else if any(|font| font.embedding().no_subset) {
            "allowed, whole"
        } else {
            "allowed, in part"
        }
    }

    pub fn json(&self) -> Value {
        let face = |font: &Arc<Font>| {
            let (least, most) = font.weights().unwrap_or((font.weight(), font.weight()));
            let axes = font.axes().into_iter().map(
                |axis| json!({ "tag": shown(axis.tag), "least": axis.least, "usual": axis.usual, "most": axis.most }),
            );
            let embedding = font.embedding();
            json!({
                "name": font.name(),
                "italic": font.italic(),
                "weights": [least, most],
                "axes": axes.collect::<Vec<Value>>(),
                "features": font.features().iter().map(|tag| shown(*tag)).collect::<Vec<String>>(),
                "languages": font.languages(),
                "embedding": {
                    "restricted": embedding.restricted,
                    "whole": embedding.no_subset,
                    "bitmaps": embedding.bitmap_only,
                },
            })
        };
        json!({ "family": self.family, "faces": self.faces.iter().map(face).collect::<Vec<Value>>() })
    }
}

fn axis(axis: &FontAxis) -> String {
    let [least, usual, most] = [axis.least, axis.usual, axis.most].map(|at| number(f64::from(at)));
    format!("{} {least} to {most} (usual {usual})", shown(axis.tag))
}

fn shown(tag: [u8; 4]) -> String {
    String::from_utf8_lossy(&tag).trim().to_owned()
}

/// A line of the list, folded where it would be too long.
fn folded(name: &str, words: &str) -> String {
    const WIDTH: usize = 100;
    let mut all = String::new();
    let mut line = format!("  {name:<10}");
    for word in words.split(' ') {
        if line.chars().count() + 1 + word.chars().count() > WIDTH {
            all += &(line.trim_end().to_owned() + "\n");
            line = " ".repeat(12);
        }
        line += " ";
        line += word;
    }
    all + line.trim_end() + "\n"
}
