//! Laid: a drawing as the SVG reader lays it out, with the fonts of its text. Where one font lacks a letter, the reader sets
//! all of the text around it in another: so such letters are cut out as pieces in a font of their own, and only where that is not
//! enough does another font stand in.

use crate::assets::drawing::faces::Faces;
use crate::assets::drawing::pictures::{DrawnFrom, Pictures};
use crate::assets::drawing::{cut, gone, markup, text};
use crate::assets::{PictureFault, decode};
use std::collections::BTreeSet;
use usvg::roxmltree::Document;

pub struct LaidDrawing<'a> {
    pub tree: usvg::Tree,
    pub faces: Faces<'a>,
    /// Families and letters of texts of which nothing is set.
    pub gone: BTreeSet<(String, char)>,
    pub pictures: Pictures<'a>,
}

impl<'a> LaidDrawing<'a> {
    pub fn read(
        document: &Document<'_>,
        name: &'a str,
        beside: DrawnFrom<'a>,
    ) -> Result<LaidDrawing<'a>, PictureFault> {
        let alone = LaidDrawing::with(document, Faces::new(beside.library), name, beside)?;
        if !alone.faces.has_more() || !alone.lacks() {
            return Ok(alone);
        }
        let cut = cut::cut(document, beside.library);
        let again = cut.as_deref().map(markup::parsed).transpose()?;
        if let Some(document) = &again {
            let pieces = LaidDrawing::with(document, Faces::new(beside.library), name, beside)?;
            if !pieces.lacks() {
                return Ok(pieces);
            }
        }
        let document = again.as_ref().unwrap_or(document);
        LaidDrawing::with(document, Faces::of_lists(beside.library), name, beside)
    }

    /// Whether letters are missing.
    fn lacks(&self) -> bool {
        text::lacks(&self.tree, &self.faces, &self.gone)
    }

    fn with(
        document: &Document<'_>,
        faces: Faces<'a>,
        name: &'a str,
        beside: DrawnFrom<'a>,
    ) -> Result<LaidDrawing<'a>, PictureFault> {
        let pictures = Pictures::new(name, beside.files);
        let tree = usvg::Tree::from_xmltree(document, &closed(&faces, &pictures)).map_err(|why| match why {
            usvg::Error::InvalidSize => {
                decode::fault("the SVG states no size", "give its first element a width and a height, or a viewBox")
            }
            other => decode::fault(format!("the SVG cannot be read: {other}"), "save it again as plain SVG"),
        })?;
        let lacks = !faces.lacked().is_empty();
        let gone = if lacks { gone::gone(document, beside.library, faces.stand_in) } else { BTreeSet::new() };
        Ok(LaidDrawing { tree, faces, gone, pictures })
    }
}

/// Reads nothing but the text it was given, and no fonts and pictures but those that it is handed.
fn closed<'a>(faces: &'a Faces<'_>, pictures: &'a Pictures<'_>) -> usvg::Options<'a> {
    usvg::Options {
        font_family: String::new(),
        // As `medium` is in all browsers.
        font_size: 16.0,
        font_resolver: faces.resolver(),
        image_href_resolver: pictures.resolver(),
        ..usvg::Options::default()
    }
}
