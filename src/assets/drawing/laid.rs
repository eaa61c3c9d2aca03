//! Laid: a drawing as the SVG reader lays it out, with the fonts of its text. Where one font lacks a letter, the reader sets
//! all of the piece around it in another; so no font stands in unless letters would be missing otherwise.

use crate::assets::drawing::faces::Faces;
use crate::assets::drawing::pictures::{DrawnFrom, Pictures};
use crate::assets::drawing::text;
use crate::assets::{PictureFault, decode};
use usvg::roxmltree::Document;

pub struct LaidDrawing<'a> {
    pub tree: usvg::Tree,
    pub faces: Faces<'a>,
    pub pictures: Pictures<'a>,
}

impl<'a> LaidDrawing<'a> {
    pub fn read(
        document: &Document<'_>,
        name: &'a str,
        beside: DrawnFrom<'a>,
    ) -> Result<LaidDrawing<'a>, PictureFault> {
        let alone = LaidDrawing::with(document, Faces::new(beside.library), name, beside)?;
        if !alone.faces.has_more() || !text::lacks(&alone.tree, &alone.faces) {
            return Ok(alone);
        }
        LaidDrawing::with(document, Faces::of_lists(beside.library), name, beside)
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
        Ok(LaidDrawing { tree, faces, pictures })
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
