//! Reads a page of a PDF. With `content.rs` the one door to the reader of PDFs.

use crate::ground::{MM_PER_PT, Rect};
use crate::printed::bounds::too_much;
use crate::printed::colour_space::text;
use crate::printed::content::Walk;
use crate::printed::page::{BOXES, PrintedPage};
use hayro_syntax::object::{Array, Dict, Name, Rect as Box};
use hayro_syntax::page::{Page, Resources, Rotation};
use hayro_syntax::{LoadPdfError, Pdf};

/// Reads the first page; `Err` says why it cannot be read.
pub fn read_pdf(bytes: &[u8]) -> Result<PrintedPage, String> {
    read_page(bytes, 1, true)
}

/// Reads a page by its number, from 1; what the samples of its pictures say only where that is wanted.
pub fn read_page(bytes: &[u8], at: usize, with_samples: bool) -> Result<PrintedPage, String> {
    let pdf = opened(bytes)?;
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

fn opened(bytes: &[u8]) -> Result<Pdf, String> {
    if let Some(why) = too_much(bytes) {
        return Err(why);
    }
    Pdf::new(bytes.to_vec()).map_err(|fault| match fault {
        LoadPdfError::Decryption(_) => "it is locked by a password".to_owned(),
        LoadPdfError::Invalid => "it is not a PDF, or a damaged one".to_owned(),
    })
}

/// The first page as it is, for those who draw it.
pub struct PageContent<'a> {
    /// Its media, its trim and its bleed, in points from where the page counts; what it does not state is the next larger.
    pub boxes: [Rect; 3],
    pub content: &'a [u8],
    pub resources: &'a Resources<'a>,
    /// What the page asks for beyond its content, in words: to be turned, layers switched off, notes that print.
    pub unread: Vec<&'static str>,
}

/// Hands out the first page of a file; `Err` says why it cannot be read.
pub fn open_page<T>(bytes: &[u8], draw: impl FnOnce(&PageContent<'_>) -> T) -> Result<T, String> {
    let pdf = opened(bytes)?;
    let page = pdf.pages().first().ok_or_else(|| "it has no page".to_owned())?;
    let rect = |rect: Box| Rect::new(rect.x0, rect.y0, rect.x1, rect.y1);
    let media = rect(page.media_box());
    let stated = |name: &str| page.raw().get::<Box>(name).map(rect);
    let trim = stated("TrimBox").unwrap_or(media);
    let bleed = stated("BleedBox").unwrap_or(trim);
    let content = PageContent {
        boxes: [media, trim, bleed],
        content: page.page_stream().unwrap_or_default(),
        resources: page.resources(),
        unread: unread(&pdf, page),
    };
    Ok(draw(&content))
}

fn unread(pdf: &Pdf, page: &Page<'_>) -> Vec<&'static str> {
    let turned = !matches!(page.rotation(), Rotation::None);
    let scaled = page.raw().get::<f64>("UserUnit").is_some_and(|unit| (unit - 1.0).abs() > 1e-9);
    let notes = page.raw().get::<Array<'_>>("Annots");
    let prints = notes.is_some_and(|notes| notes.iter::<Dict<'_>>().any(|note| is_printed(&note)));
    let all = [
        (turned, "a page that asks to be turned"),
        (scaled, "a page in units of its own"),
        (hides_layers(pdf).unwrap_or(false), "layers that are switched off"),
        (prints, "annotations that print"),
    ];
    all.into_iter().filter(|(is_so, _)| *is_so).map(|(_, what)| what).collect()
}

/// By its flags: to be printed, and not hidden (ISO 32000-1, table 165).
fn is_printed(note: &Dict<'_>) -> bool {
    let flags = note.get::<u32>("F").unwrap_or(0);
    flags & 4 != 0 && flags & 2 == 0
}

fn hides_layers(pdf: &Pdf) -> Option<bool> {
    let root: Dict<'_> = pdf.xref().get(pdf.xref().root_id())?;
    let usual = root.get::<Dict<'_>>("OCProperties")?.get::<Dict<'_>>("D")?;
    let all_off = usual.get::<Name<'_>>("BaseState").is_some_and(|state| text(&state) == "OFF");
    let some_off = usual.get::<Array<'_>>("OFF").is_some_and(|off| off.raw_iter().next().is_some());
    Some(all_off || some_off)
}

fn condition(pdf: &Pdf) -> Option<String> {
    let root: Dict<'_> = pdf.xref().get(pdf.xref().root_id())?;
    let intents = root.get::<Array<'_>>("OutputIntents")?;
    let first = intents.iter::<Dict<'_>>().next()?;
    let name = first.get::<hayro_syntax::object::String<'_>>("OutputConditionIdentifier")?;
    Some(String::from_utf8_lossy(name.as_bytes()).into_owned())
}
