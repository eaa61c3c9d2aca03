//! A document to be read: pages of our own making, with a picture and with layers that can be switched off. It is not for
//! printing, so it claims no standard.

use crate::assets::{Darkroom, srgb_profile};
use crate::ground::{Affine, Pieces, Rect, deflate};
use crate::pdf::boxes::{PageBoxes, SCALE, rect};
use crate::pdf::content::{Content, Resource};
use crate::pdf::forme::Forme;
use crate::pdf::layers;
use crate::pdf::metadata::Identity;
use crate::scene::{Item, Scene};
use pdf_writer::types::PageMode;
use pdf_writer::{Filter, Finish, Ref, TextStr};
use std::sync::Arc;

/// One page. Lengths in millimetres, y down, in a space of its own.
pub struct DocumentPage {
    /// The page's edges.
    pub frame: Rect,
    /// Trim and bleed of what it shows at its true size.
    pub shown: Option<(Rect, Rect)>,
    pub picture: Option<DocumentPicture>,
    /// From bottom to top.
    pub layers: Vec<DocumentLayer>,
}

pub struct DocumentLayer {
    /// What a reader calls it; one without a name is always shown.
    pub name: Option<&'static str>,
    pub items: Vec<Item>,
}

/// A picture under all layers: a JPEG in sRGB.
pub struct DocumentPicture {
    pub place: Rect,
    pub pixels: (usize, usize),
    pub jpeg: Arc<Vec<u8>>,
}

/// The bytes of a PDF. `about` gives title, author and date.
pub fn document(about: &Scene, pages: &[DocumentPage], darkroom: &Darkroom) -> Pieces {
    let items = pages.iter().flat_map(|page| &page.layers).flat_map(|layer| layer.items.iter().cloned());
    let scene = &Scene {
        sheet: about.sheet.clone(),
        job: about.job.clone(),
        profile: about.profile.clone(),
        items: items.collect(),
        views: None,
    };
    let none = PageBoxes { media: Rect::ZERO, trim: Rect::ZERO, bleed: Rect::ZERO };
    let mut forme = Forme::new(scene, none, darkroom);
    let [catalog, tree] = std::array::from_fn(|_| forme.id());
    forme.gather_fonts();
    let mut known: Vec<(&'static str, Ref)> = Vec::new();
    let kids: Vec<Ref> = pages.iter().map(|page| write_page(&mut forme, page, tree, &mut known)).collect();
    forme.write_fonts();
    forme.pdf.pages(tree).count(i32::try_from(kids.len()).unwrap_or(i32::MAX)).kids(kids);
    let identity = Identity::of(&scene.job, &forme.written());
    let metadata = forme.write_metadata(&identity, None);
    let mut root = forme.pdf.catalog(catalog);
    root.pages(tree).metadata(metadata).lang(TextStr("en"));
    root.viewer_preferences().display_doc_title(true);
    if !known.is_empty() {
        root.page_mode(PageMode::UseOC);
    }
    let all: Vec<Ref> = known.iter().map(|(_, id)| *id).collect();
    layers::write(&all, "Proof", &mut root);
    drop(root);
    forme.finish()
}

fn write_page(forme: &mut Forme<'_>, page: &DocumentPage, tree: Ref, known: &mut Vec<(&'static str, Ref)>) -> Ref {
    let frame = page.frame;
    let place = Affine::new([SCALE, 0.0, 0.0, -SCALE, -frame.x0 * SCALE, frame.y1 * SCALE]);
    forme.boxes.media = place.transform_rect_bbox(frame);
    let [id, contents] = std::array::from_fn(|_| forme.id());
    let mut content = Content::new(place);
    if let Some(picture) = &page.picture {
        write_picture(forme, &mut content, picture);
    }
    for layer in &page.layers {
        if let Some(name) = layer.name {
            let id = layer_id(forme, name, known);
            content.bytes.extend_from_slice(b"/OC ");
            content.call(Resource::Layer, id, "BDC");
        }
        forme.draw(&mut content, &layer.items);
        if layer.name.is_some() {
            content.word("EMC");
        }
    }
    forme.pdf.stream(contents, &deflate(&content.bytes)).filter(Filter::FlateDecode);
    let mut leaf = forme.pdf.page(id);
    leaf.parent(tree).media_box(rect(forme.boxes.media)).contents(contents);
    if let Some((trim, bleed)) = page.shown {
        leaf.trim_box(rect(place.transform_rect_bbox(trim))).bleed_box(rect(place.transform_rect_bbox(bleed)));
    }
    content.resources(&mut leaf.resources());
    leaf.finish();
    id
}

fn write_picture(forme: &mut Forme<'_>, content: &mut Content, picture: &DocumentPicture) {
    let profile = forme.screen_profile();
    let id = forme.id();
    let side = |pixels: usize| i32::try_from(pixels).unwrap_or(i32::MAX);
    let mut image = forme.image(id, picture.jpeg.clone().into());
    image.width(side(picture.pixels.0)).height(side(picture.pixels.1)).bits_per_component(8);
    image.color_space().icc_based(profile);
    image.filter(Filter::DctDecode);
    image.finish();
    let Rect { x0, y1, .. } = picture.place;
    let square = Affine::new([picture.place.width(), 0.0, 0.0, -picture.place.height(), x0, y1]);
    content.save();
    content.matrix(content.place * square, "cm");
    content.call(Resource::Object, id, "Do");
    content.restore();
}

impl Forme<'_> {
    /// The colours of screens, sRGB.
    fn screen_profile(&mut self) -> Ref {
        let id = self.id();
        self.pdf.icc_profile(id, &deflate(srgb_profile())).n(3).filter(Filter::FlateDecode);
        id
    }
}

fn layer_id(forme: &mut Forme<'_>, name: &'static str, known: &mut Vec<(&'static str, Ref)>) -> Ref {
    if let Some((_, id)) = known.iter().find(|(other, _)| *other == name) {
        return *id;
    }
    let id = forme.layer(name, None);
    known.push((name, id));
    id
}
