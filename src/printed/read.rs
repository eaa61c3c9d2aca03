//! Reads the first page of a PDF. The one door to the reader of PDFs.

use crate::ground::{MM_PER_PT, Rect};
use crate::printed::bounds::too_much;
use crate::printed::content::Walk;
use hayro_syntax::object::{Dict, Name, Rect as Box};
use hayro_syntax::{LoadPdfError, Pdf};
use std::collections::{BTreeMap, BTreeSet};

/// What is on the first page, in millimetres from the lower left corner of its media box.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PrintedPage {
    pub pages: usize,
    /// By their PDF names: `TrimBox`.
    pub boxes: BTreeMap<&'static str, Rect>,
    /// Those that something is painted in: process inks by letter, and spot inks by name.
    pub spots: BTreeSet<String>,
    /// Whether a font's outlines are inside, by name, without the mark of a subset.
    pub fonts: BTreeMap<String, bool>,
    /// Width, height and components of every picture that is placed, smallest first.
    pub pictures: Vec<(u32, u32, String)>,
    /// How many fills, strokes and texts are painted while overprint is on, and how many at all.
    pub overprinted: usize,
    pub painted: usize,
    pub texts: usize,
    /// The condition that its output intent names.
    pub condition: Option<String>,
    /// Straight lines along the axes, thin or the edges of rectangles.
    pub lines: Vec<PageLine>,
    /// There was more than is looked at.
    pub is_cut_short: bool,
}

/// A straight line, upright or level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageLine {
    pub upright: bool,
    /// Where it stands, from the left or from the foot.
    pub at: f64,
    pub from: f64,
    pub to: f64,
}

pub const BOXES: [&str; 5] = ["MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox"];

/// Reads a PDF; `Err` says why it cannot be read.
pub fn read_pdf(bytes: &[u8]) -> Result<PrintedPage, String> {
    if let Some(why) = too_much(bytes) {
        return Err(why);
    }
    let pdf = Pdf::new(bytes.to_vec()).map_err(|fault| match fault {
        LoadPdfError::Decryption(_) => "it is locked by a password".to_owned(),
        LoadPdfError::Invalid => "it is no PDF, or a damaged one".to_owned(),
    })?;
    let page = pdf.pages().first().ok_or("it has no page")?;
    let media = page.media_box();
    let mm = |rect: Box| {
        let point = |x: f64, origin: f64| (x - origin) * MM_PER_PT;
        Rect::new(
            point(rect.x0, media.x0),
            point(rect.y0, media.y0),
            point(rect.x1, media.x0),
            point(rect.y1, media.y0),
        )
    };
    let stated = BOXES.into_iter().filter_map(|name| Some((name, mm(page.raw().get::<Box>(name)?))));
    let mut found = PrintedPage { pages: pdf.pages().len(), boxes: stated.collect(), ..PrintedPage::default() };
    found.boxes.insert("MediaBox", mm(media));
    found.condition = condition(&pdf);
    let mut walk = Walk::new((media.x0, media.y0), &mut found);
    walk.resources(page.resources());
    walk.stream(page.page_stream().unwrap_or_default(), page.resources(), 0);
    walk.finish();
    Ok(found)
}

fn condition(pdf: &Pdf) -> Option<String> {
    let root: Dict<'_> = pdf.xref().get(pdf.xref().root_id())?;
    let intents = root.get::<hayro_syntax::object::Array<'_>>("OutputIntents")?;
    let first = intents.iter::<Dict<'_>>().next()?;
    let name = first.get::<hayro_syntax::object::String<'_>>("OutputConditionIdentifier")?;
    Some(String::from_utf8_lossy(name.as_bytes()).into_owned())
}

/// A name as text.
pub fn text(name: &Name<'_>) -> String {
    String::from_utf8_lossy(name.as_ref()).into_owned()
}
