//! Views: pictures of the finished book, as it stands.

use crate::assets::Darkroom;
use crate::ground::{Ink, MM_PER_INCH};
use crate::output::entry::{Output, OutputFile, OutputJob};
use crate::output::png::{About, screen_file};
use crate::raster::{finished_sheet, ink_on_screen};
use crate::scene::{Backdrop, BookShape, BookView, Media, PanelName, Scene, Sheet, StandingBook};
use crate::source::Word;
use crate::view::{GroundColours, Layers, Paints, PrintedBook, Rgba, STUDIO, Texture, draw};

pub const OUTPUT: Output = Output {
    word: Word::new("view", "pictures of the finished book, as its `view` words ask for"),
    files: &["view-NAME.png"],
    for_press: false,
    on_request: false,
    media: Media::Print,
    write,
};

/// The print is drawn with so many dots to a pixel of the view, and within these resolutions.
const FINER: f64 = 1.25;
const LEAST_PPI: f64 = 60.0;
const MOST_PPI: f64 = 300.0;

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let OutputJob { scene, darkroom, .. } = *job;
    let Some(views) = scene.views.as_ref().filter(|views| !views.all.is_empty()) else { return Vec::new() };
    // One print serves all views: the finest that any of them needs.
    let ppi = views.all.iter().map(|view| ppi(view, views)).fold(LEAST_PPI, f64::max).min(MOST_PPI);
    let print = print(scene, ppi, darkroom);
    views.all.iter().flat_map(|view| files(scene, views, view, &print, darkroom)).collect()
}

/// One view, by its name: the bytes of a PNG.
pub fn view_picture(scene: &Scene, name: &str, darkroom: &Darkroom) -> Option<Vec<u8>> {
    let views = scene.views.as_ref()?;
    let view = BookView { layers: false, ..views.all.iter().find(|view| view.name == name)?.clone() };
    let print = print(scene, ppi(&view, views).clamp(LEAST_PPI, MOST_PPI), darkroom);
    files(scene, views, &view, &print, darkroom).into_iter().next().map(|file| file.bytes.whole().into_owned())
}

/// The resolution that a view needs: as if the book filled the picture.
fn ppi(view: &BookView, views: &StandingBook) -> f64 {
    let (width, height) = views.shape.page;
    let pixels = f64::from(view.pixels.0.max(view.pixels.1));
    pixels * FINER / width.max(height) * MM_PER_INCH * 0.75
}

/// The sheet as a texture; along it counts from the middle of the spine.
pub fn print(scene: &Scene, ppi: f64, darkroom: &Darkroom) -> Texture {
    let drawn = finished_sheet(scene, scene.sheet.bleed, ppi, darkroom);
    let scale = (ppi / MM_PER_INCH) as f32;
    let corner = (scene.sheet.bleed.x0 - spine_middle(&scene.sheet), scene.sheet.bleed.y0);
    let texture = Texture::new(&drawn.rgb, (drawn.width, drawn.height), scale, (corner.0 as f32, corner.1 as f32));
    match drawn.finishes {
        Some(finishes) => texture.finished(&finishes),
        None => texture,
    }
}

/// The colours of a book that are not on its sheet.
pub fn paints(scene: &Scene, shape: &BookShape) -> Paints {
    let colour = |ink: &Ink| ink_on_screen(ink, &scene.profile);
    Paints {
        sprayed: shape.sprayed.as_ref().map(colour),
        head_bands: [&shape.head_bands[0], &shape.head_bands[1]].map(colour),
        ribbon: shape.ribbon.as_ref().map(colour),
    }
}

/// The colours of the ground.
pub fn ground(scene: &Scene, view: &BookView) -> GroundColours {
    let colour = |ink: &Ink| ink_on_screen(ink, &scene.profile);
    match &view.backdrop {
        Backdrop::Studio => Some(STUDIO),
        Backdrop::Plain(ink) => Some([colour(ink); 2]),
        Backdrop::Passing(front, back) => Some([colour(front), colour(back)]),
        Backdrop::Clear => None,
    }
}

/// The bytes of a PNG; transparent where its ground is.
pub fn picture(pixels: &Rgba, size: (usize, usize), clear: bool, about: impl Into<About>) -> Vec<u8> {
    if clear {
        return screen_file(pixels.as_flattened(), 4, size, about);
    }
    let rgb: Vec<u8> = pixels.iter().flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    screen_file(&rgb, 3, size, about)
}

/// The middle of the spine, or the fold of a stapled book.
fn spine_middle(sheet: &Sheet) -> f64 {
    let trim = sheet.trim.center().x;
    sheet.panel(PanelName::Spine).map_or(trim, |spine| spine.rect.center().x)
}

fn files(
    scene: &Scene,
    views: &StandingBook,
    view: &BookView,
    print: &Texture,
    darkroom: &Darkroom,
) -> Vec<OutputFile> {
    let book = PrintedBook { shape: &views.shape, print, paints: &paints(scene, &views.shape) };
    let layers = draw(&book, view, ground(scene, view), &|key, make| darkroom.light(key, make));
    let size = (view.pixels.0 as usize, view.pixels.1 as usize);
    let file = |part: &str, pixels: &Rgba, clear: bool| {
        let name = format!("view-{}{part}.png", view.name);
        // Its shadow, its mirror image and its ground do not show the book.
        let about = About::version(scene, &view.name, "image/png", part.is_empty() || part == BookView::LAYERS[0]);
        OutputFile { name, bytes: picture(pixels, size, clear, about).into() }
    };
    let mut files = vec![file("", &layers.whole(), view.backdrop == Backdrop::Clear)];
    if view.layers {
        let Layers { book, shadow, mirror, ground } = &layers;
        let parts = BookView::LAYERS.into_iter().zip([book, shadow, mirror, ground]);
        files.extend(parts.map(|(part, pixels)| file(part, pixels, true)));
    }
    files
}
