//! Reads a page of a PDF. With `content.rs` the one door to the reader of PDFs.

use crate::ground::{MM_PER_PT, Rect};
use crate::printed::bounds::too_much;
use crate::printed::content::Walk;
use crate::printed::page::{BOXES, PrintedPage};
use hayro_syntax::object::{Dict, Rect as Box};
use hayro_syntax::page::Rotation;
use hayro_syntax::{LoadPdfError, Pdf};

/// Reads the first page; `Err` says why it cannot be read.
pub fn read_pdf(bytes: &[u8]) -> Result<PrintedPage, String> {
    read_page(bytes, 1, true)
}

/// Reads a page by its number, from 1; what the samples of its pictures say only where that is wanted.
pub fn read_page(bytes: &[u8], at: usize, with_samples: bool) -> Result<PrintedPage, String> {
    if let Some(why) = too_much(bytes) {
        return Err(why);
    }
    let pdf = Pdf::new(bytes.to_vec()).map_err(|fault| match fault {
        LoadPdfError::Decryption(_) => "it is locked by a password".to_owned(),
        LoadPdfError::Invalid => "it is not a PDF, or a damaged one".to_owned(),
    })?;
    let page = pdf.pages().get(at.saturating_sub(1)).ok_or_else(|| match pdf.pages().len() {
        0 => "it has no page".to_owned(),
        1 => format!("it has 1 page, and no page {at}"),
        pages => format!("it has {pages} pages, and no page {at}"),
    })?;
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
    let mut walk = Walk::new((media.x0, media.y0), with_samples, &mut found);
    walk.resources(page.resources());
    walk.stream(page.page_stream().unwrap_or_default(), page.resources(), 0);
    walk.finish();
    found.turn(match page.rotation() {
        Rotation::None => 0,
        Rotation::Horizontal => 1,
        Rotation::Flipped => 2,
        Rotation::FlippedHorizontal => 3,
    });
    Ok(found)
}

fn condition(pdf: &Pdf) -> Option<String> {
    let root: Dict<'_> = pdf.xref().get(pdf.xref().root_id())?;
    let intents = root.get::<hayro_syntax::object::Array<'_>>("OutputIntents")?;
    let first = intents.iter::<Dict<'_>>().next()?;
    let name = first.get::<hayro_syntax::object::String<'_>>("OutputConditionIdentifier")?;
    Some(String::from_utf8_lossy(name.as_bytes()).into_owned())
}
