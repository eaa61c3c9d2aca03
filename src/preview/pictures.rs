//! Pictures: what is looked at whole: front and spine for the wall, views of the finished book, pages of the proof.

use crate::ground::{Digest, MM_PER_INCH};
use crate::output::{png_file, view_picture};
use crate::preview::answer::{Declined, PageAnswer};
use crate::preview::cover_id::CoverId;
use crate::preview::shown::ShownCover;
use crate::preview::studio::Studio;
use crate::raster::screen;
use crate::scene::PanelName;
use serde::Deserialize;

#[derive(Deserialize)]
pub struct FaceQuery {
    name: String,
    #[serde(default = "usual_height")]
    height: u32,
}

/// Pixels.
fn usual_height() -> u32 {
    320
}
const HEIGHTS: std::ops::RangeInclusive<u32> = 16..=1200;
/// Of a page of the proof.
const PAGE_PPI: f64 = 150.0;

pub fn face(studio: &Studio, id: &CoverId, panel: PanelName, query: &FaceQuery) -> Result<PageAnswer, Declined> {
    let height = query.height.clamp(*HEIGHTS.start(), *HEIGHTS.end());
    let key = Digest::of_all(&[b"face", query.name.as_bytes(), &height.to_le_bytes()]);
    if let Some(known) = studio.pictures.get(key) {
        return Ok(PageAnswer::Png(known));
    }
    let darkroom = &studio.workshop.darkroom;
    let shown = studio.look(id)?.picture()?;
    if shown.face_name(panel, darkroom).map(|name| name.to_string()).as_ref() != Some(&query.name) {
        return Err(Declined::outdated());
    }
    let face = shown.face(panel).ok_or_else(|| Declined::missing("this cover has no such panel"))?;
    let ppi = f64::from(height) / face.height() * MM_PER_INCH;
    let drawn = screen(shown.scene(), face, ppi, darkroom);
    let png = png_file(&drawn.rgb, (drawn.width, drawn.height), ppi, "");
    Ok(PageAnswer::Png(studio.pictures.keep(key, png).0))
}

/// A view of the finished book, by its name.
pub fn view(studio: &Studio, id: &CoverId, name: &str) -> Result<PageAnswer, Declined> {
    passing(studio, id, &format!("view {name}"), |shown| {
        let bytes = view_picture(shown.scene(), name, &studio.workshop.darkroom);
        bytes.ok_or_else(|| Declined::missing("this cover has no view of that name"))
    })
}

/// A page of the proof, counted from 1.
pub fn proof(studio: &Studio, id: &CoverId, page: usize) -> Result<PageAnswer, Declined> {
    let darkroom = &studio.workshop.darkroom;
    passing(studio, id, &format!("proof {page}"), |shown| {
        let sheet = page.checked_sub(1).and_then(|page| shown.proof(darkroom).get(page));
        let sheet = sheet.ok_or_else(|| Declined::missing("the proof has no such page"))?;
        let drawn = screen(sheet, sheet.sheet.trim, PAGE_PPI, darkroom);
        Ok(png_file(&drawn.rgb, (drawn.width, drawn.height), PAGE_PPI, ""))
    })
}

/// A picture that stays as it is until the next build.
fn passing(
    studio: &Studio,
    id: &CoverId,
    what: &str,
    paint: impl FnOnce(&ShownCover) -> Result<Vec<u8>, Declined>,
) -> Result<PageAnswer, Declined> {
    let look = studio.look(id)?;
    let key = Digest::of_all(&[format!("{id} {}", look.build).as_bytes(), what.as_bytes()]);
    let shown = look.picture()?;
    Ok(PageAnswer::PassingPng(studio.pictures.get_or(key, || paint(&shown))?))
}
