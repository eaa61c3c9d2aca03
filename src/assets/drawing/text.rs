//! Text of a drawing as the reader has set it: letters that a font lacks, and what came out otherwise than the file says.

use crate::assets::Font;
use crate::assets::drawing::along;
use crate::assets::drawing::faces::{Faces, is_same};
use crate::assets::drawing::remark::DrawingRemark;
use crate::assets::drawing::style::Styles;
use crate::ground::{Severity, listed};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use unicode_normalization::char::is_combining_mark;
use usvg::layout::Span;
use usvg::roxmltree::Document;
use usvg::{Group, TextChunk, TextFlow, TextSpan};

/// Whether letters are missing.
pub fn lacks(tree: &usvg::Tree, faces: &Faces<'_>, gone: &BTreeSet<(String, char)>) -> bool {
    !SeenText::of(tree, faces, gone).lacking.is_empty()
}

/// What there is to say of its fonts; the rest is named among what is not drawn as the file says.
pub fn remarks(
    (tree, faces, gone): (&usvg::Tree, Faces<'_>, &BTreeSet<(String, char)>),
    (document, styles): (&Document<'_>, &Styles<'_>),
    left_out: &mut BTreeSet<String>,
) -> Vec<DrawingRemark> {
    let SeenText { lacking, joined, along, lost, small, misplaced, marked, .. } = SeenText::of(tree, &faces, gone);
    let lacking = lacking.into_iter().map(|(font, letters)| {
        let codes = letters.iter().map(|letter| format!("{letter} (U+{:04X})", u32::from(*letter)));
        let message = format!("has text in {font}, which has no {}", listed(&codes.collect::<Vec<_>>(), NAMED));
        let help = "choose another font in the drawing, or name a second one after it that has these letters";
        DrawingRemark { severity: Severity::Error, rule: "missing-glyph", message, help: help.to_owned() }
    });
    let lacking: Vec<DrawingRemark> = lacking.collect();
    let mut remarks = faces.remarks();
    // Text without a font is reported as a whole.
    if remarks.iter().all(|remark| remark.severity != Severity::Error) {
        left_out.extend(lost);
        left_out.extend(along::lost(document, styles, &along));
    }
    left_out.extend(joined);
    left_out.extend(small);
    left_out.extend(misplaced);
    left_out.extend(marked);
    remarks.extend(lacking);
    remarks
}

/// Letters that a message names.
const NAMED: usize = 10;

#[derive(Default)]
struct SeenText {
    /// By the names of fonts.
    lacking: BTreeMap<String, BTreeSet<char>>,
    /// Letters that are set, and the fonts that their text asks first.
    set: BTreeSet<(String, char)>,
    joined: BTreeSet<String>,
    small: BTreeSet<String>,
    lost: BTreeSet<String>,
    /// Letters in a font that was to stand in for others only.
    misplaced: BTreeSet<String>,
    /// Marks in pieces of text whose font is not that of the first piece.
    marked: BTreeSet<String>,
    /// Text along paths: the name of its path, and its letters.
    along: BTreeSet<(String, String)>,
}

impl SeenText {
    fn of(tree: &usvg::Tree, faces: &Faces<'_>, gone: &BTreeSet<(String, char)>) -> SeenText {
        let mut seen = SeenText::default();
        seen.group(tree.root(), faces);
        // A text that shows nothing at all is not in the tree. Each font of a text is asked for all its letters, so a letter
        // that is missing in one font already is not missed in those beside it.
        let is_gone =
            |(font, letter): &(String, char)| faces.family(font).is_some_and(|font| gone.contains(&(font, *letter)));
        let missing: BTreeSet<char> = seen.lacking.values().flatten().copied().collect();
        let is_known = |lacked: &(String, char)| seen.set.contains(lacked) || missing.contains(&lacked.1);
        for (font, letter) in faces.lacked().into_iter().filter(|lacked| is_gone(lacked) || !is_known(lacked)) {
            seen.lacking.entry(font).or_default().insert(letter);
        }
        seen
    }

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
        let chunks = text.chunks();
        let spans: Vec<&TextSpan> = chunks.iter().flat_map(TextChunk::spans).collect();
        let asked: Vec<Arc<Font>> = spans.iter().filter_map(|span| faces.first(span.font())).collect();
        // A run that shows nothing is not laid out; where there are such, which is which is not known.
        let is_known = spans.len() == text.layouted().len() && spans.len() == asked.len();
        for (at, span) in text.layouted().iter().enumerate().filter(|(_, span)| span.visible) {
            self.letters(span, &asked, faces);
            self.fonts(span, if is_known { &asked[at..=at] } else { &asked }, faces);
            if is_known {
                self.span(spans[at], span, faces);
            }
        }
        for chunk in chunks {
            self.marks(chunk, faces);
            if let TextFlow::Path(path) = chunk.text_flow() {
                self.along.insert((path.id().to_owned(), along::printed(chunk.text())));
            }
        }
        let printed = |text: &str| along::printed(text).chars().count();
        let wanted: usize = chunks.iter().map(|chunk| printed(chunk.text())).sum();
        let glyphs = text.layouted().iter().flat_map(|span| &span.positioned_glyphs);
        let set: usize = glyphs.map(|glyph| printed(&glyph.text)).sum();
        if set < wanted {
            let all: String = chunks.iter().map(TextChunk::text).collect::<String>().chars().take(30).collect();
            self.lost.insert(format!(
                "{} letters of the text {:?}, that do not fit on the path",
                wanted - set,
                all.trim()
            ));
        }
    }

    /// The reader puts letters of other fonts in the place of those of the first, one by one: of a letter with marks, it may lose
    /// some or leave others in their place.
    fn marks(&mut self, chunk: &TextChunk, faces: &Faces<'_>) {
        let spans = || chunk.spans().iter().filter(|span| span.is_visible());
        let Some(first) = chunk.spans().iter().find_map(|span| faces.first(span.font())) else { return };
        for span in spans().filter(|span| faces.first(span.font()).is_some_and(|font| !is_same(&font, &first))) {
            let piece = chunk.text().get(span.start()..span.end()).unwrap_or_default();
            if let Some(at) = piece.find(is_combining_mark) {
                let letter = piece[..at].chars().next_back();
                let marked: String = letter.into_iter().chain(piece[at..].chars().take(1)).collect();
                let message =
                    format!("letters with marks after text in another font ({marked}), whose marks may be lost");
                self.marked.insert(message);
            }
        }
    }

    fn letters(&mut self, span: &Span, asked: &[Arc<Font>], faces: &Faces<'_>) {
        let names: BTreeSet<&str> = asked.iter().map(|font| font.name()).collect();
        for glyph in &span.positioned_glyphs {
            if glyph.id.0 != 0 {
                for name in &names {
                    self.set.extend(glyph.text.chars().map(|letter| ((*name).to_owned(), letter)));
                }
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

    /// The reader sets a whole piece of text in the font that stands in for one letter of it.
    fn fonts(&mut self, span: &Span, asked: &[Arc<Font>], faces: &Faces<'_>) {
        let Some(foremost) = asked.first() else { return };
        for glyph in span.positioned_glyphs.iter().filter(|glyph| !along::printed(&glyph.text).is_empty()) {
            let Some(font) = faces.font(glyph.font) else { continue };
            let has_all = |first: &Arc<Font>| glyph.text.chars().all(|letter| first.glyph(letter).is_some());
            if glyph.id.0 != 0 && asked.iter().all(|first| has_all(first) && !is_same(first, &font)) {
                let (first, set) = (foremost.family(), font.family());
                self.misplaced.insert(format!("letters in {set:?}, though {first:?} is named before it and has them"));
            }
        }
    }

    fn span(&mut self, said: &TextSpan, span: &Span, faces: &Faces<'_>) {
        if said.letter_spacing() != 0.0 {
            // Letters that are set apart are not joined (CSS Text 3, 8.2), but for scripts whose letters always are.
            let is_letter = |letter: char| letter.is_alphabetic() && u32::from(letter) < JOINING;
            let ligatures = span.positioned_glyphs.iter().map(|glyph| &glyph.text);
            let ligatures = ligatures.filter(|text| text.chars().filter(|letter| is_letter(*letter)).count() > 1);
            self.joined.extend(
                ligatures.map(|text| format!("letter-spaced text in which the font still joins letters (`{text}`)")),
            );
        }
        if said.small_caps() {
            let fonts = span.positioned_glyphs.iter().filter_map(|glyph| faces.font(glyph.font));
            let lacking = fonts.filter(|font| !font.has_feature(*b"smcp"));
            self.small.extend(lacking.map(|font| format!("small capitals, which {} does not have", font.name())));
        }
    }
}

/// Latin, Greek and Cyrillic come before it.
const JOINING: u32 = 0x0530;
