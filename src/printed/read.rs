//! Reads the first page of a PDF. With `content.rs` the one door to the reader of PDFs.

use crate::ground::{MM_PER_PT, Rect};
use crate::printed::bounds::too_much;
use crate::printed::content::Walk;
use crate::printed::page::{BOXES, PrintedPage};
use hayro_syntax::object::{Dict, Rect as Box};
use hayro_syntax::{LoadPdfError, Pdf};

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
