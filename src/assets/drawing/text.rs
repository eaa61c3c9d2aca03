//! Text of a drawing as the reader has set it: letters that a font lacks, and what came out otherwise than the file says.

use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::faces::Faces;
use crate::assets::drawing::remark::DrawingRemark;
use crate::ground::Severity;
use std::collections::{BTreeMap, BTreeSet};
use usvg::layout::Span;
use usvg::roxmltree::{Document, Node};
use usvg::{Group, TextChunk, TextFlow, TextSpan};

/// What there is to say of its fonts; the rest is named among what is not drawn as the file says.
pub fn remarks(
    tree: &usvg::Tree,
    document: &Document<'_>,
    faces: Faces<'_>,
    left_out: &mut BTreeSet<String>,
) -> Vec<DrawingRemark> {
    let mut seen = SeenText::default();
    seen.group(tree.root(), &faces);
    let SeenText { mut lacking, set, joined, paths, lost, small } = seen;
    // A text that shows nothing at all is not in the tree.
    for (font, letter) in faces.lacked().into_iter().filter(|(_, letter)| !set.contains(letter)) {
        lacking.entry(font).or_default().insert(letter);
    }
    let lacking = lacking.into_iter().map(|(font, letters)| {
        let codes = letters.iter().map(|letter| format!("{letter} (U+{:04X})", u32::from(*letter)));
        let message = format!("has text in {font}, which has no {}", codes.collect::<Vec<_>>().join(", "));
        let help = "choose another font in the drawing, or name a second one after it that has these letters";
        DrawingRemark { severity: Severity::Error, rule: "missing-glyph", message, help: help.to_owned() }
    });
    let lacking: Vec<DrawingRemark> = lacking.collect();
    let mut remarks = faces.remarks();
    // Text without a font is reported as a whole.
    if remarks.iter().all(|remark| remark.severity != Severity::Error) {
        left_out.extend(lost);
        if paths < document.descendants().filter(|node| is_on_a_path(*node)).count() {
            left_out.insert("text along a path that it does not fit on".to_owned());
        }
    }
    left_out.extend(joined);
    left_out.extend(small);
    remarks.extend(lacking);
    remarks
}

/// Printed text along a path.
fn is_on_a_path(node: Node<'_, '_>) -> bool {
    let hidden = |above: Node<'_, '_>| {
        let style = above.attribute("style").unwrap_or_default();
        above.has_tag_name((SVG, "defs")) || above.attribute("display") == Some("none") || style.contains("display")
    };
    let says =
        || node.descendants().any(|inside| inside.is_text() && !inside.text().unwrap_or_default().trim().is_empty());
    node.has_tag_name((SVG, "textPath")) && says() && !node.ancestors().any(hidden)
}

#[derive(Default)]
struct SeenText {
    /// By the names of fonts.
    lacking: BTreeMap<String, BTreeSet<char>>,
    /// Letters that are set.
    set: BTreeSet<char>,
    joined: BTreeSet<String>,
    small: BTreeSet<String>,
    lost: BTreeSet<String>,
    /// Runs of text along paths.
    paths: usize,
}

impl SeenText {
    fn group(&mut self, group: &Group, faces: &Faces<'_>) {
        for node in group.children() {
            match node {
                usvg::Node::Group(child) => self.group(child, faces),
                usvg::Node::Text(text) => self.text(text, faces),
                _ => {}
            }
            node.subroots(|root| self.group(root, faces));
        }
    }

    fn text(&mut self, text: &usvg::Text, faces: &Faces<'_>) {
        for span in text.layouted() {
            self.letters(span, faces);
        }
        let chunks = text.chunks();
        self.paths += chunks.iter().filter(|chunk| matches!(chunk.text_flow(), TextFlow::Path(_))).count();
        let printed = |text: &str| text.chars().filter(|letter| !letter.is_whitespace()).count();
        let wanted: usize = chunks.iter().map(|chunk| printed(chunk.text())).sum();
        let glyphs = text.layouted().iter().flat_map(|span| &span.positioned_glyphs);
        let set: usize = glyphs.map(|glyph| printed(&glyph.text)).sum();
        if set < wanted {
            let all: String = chunks.iter().map(TextChunk::text).collect::<String>().chars().take(30).collect();
            self.lost.insert(format!(
                "{} letters of the text {:?}, for which there is no room",
                wanted - set,
                all.trim()
            ));
        }
        let spans: Vec<&TextSpan> = chunks.iter().flat_map(TextChunk::spans).collect();
        // A run that shows nothing is not laid out; where there are such, which is which is not known.
        if spans.len() == text.layouted().len() {
            spans.into_iter().zip(text.layouted()).for_each(|(said, span)| self.span(said, span, faces));
        }
    }

    fn letters(&mut self, span: &Span, faces: &Faces<'_>) {
        for glyph in &span.positioned_glyphs {
            if glyph.id.0 != 0 {
                self.set.extend(glyph.text.chars());
                continue;
            }
            let Some(font) = faces.font(glyph.font) else { continue };
            let lacks =
                |letter: &char| font.glyph(*letter).is_none() && !letter.is_whitespace() && !letter.is_control();
            let letters = glyph.text.chars().filter(lacks);
            self.lacking.entry(font.name().to_owned()).or_default().extend(letters);
        }
        self.lacking.retain(|_, letters| !letters.is_empty());
    }

    fn span(&mut self, said: &TextSpan, span: &Span, faces: &Faces<'_>) {
        if said.letter_spacing() != 0.0 {
            // Letters that are set apart are not joined (CSS Text 3, 8.2), but for scripts whose letters always are.
            let is_letter = |letter: char| letter.is_alphabetic() && u32::from(letter) < JOINING;
            let ligatures = span.positioned_glyphs.iter().map(|glyph| &glyph.text);
            let ligatures = ligatures.filter(|text| text.chars().filter(|letter| is_letter(*letter)).count() > 1);
            self.joined.extend(ligatures.map(|text| format!("letters that are set apart and stay joined (`{text}`)")));
        }
        if said.small_caps() {
            let fonts = span.positioned_glyphs.iter().filter_map(|glyph| faces.font(glyph.font));
            let lacking = fonts.filter(|font| !font.has_feature(*b"smcp"));
            self.small.extend(lacking.map(|font| format!("small capitals, which {} has not", font.name())));
        }
    }
}

/// Latin, Greek and Cyrillic come before it.
const JOINING: u32 = 0x0530;
