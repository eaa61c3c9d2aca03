//! The page: its boxes, its contents, and the catalogue around it.

use crate::assets::Darkroom;
use crate::ground::{Pieces, deflate};
use crate::pdf::boxes::{Margins, PageBoxes, rect};
use crate::pdf::forme::Forme;
use crate::pdf::metadata::Identity;
use crate::pdf::press_page::PressPage;
use crate::pdf::{Surround, intent, layers, printers_marks};
use crate::scene::Scene;
use pdf_writer::{Filter, Ref, TextStr};

pub fn write(scene: &Scene, page: &PressPage<'_>, darkroom: &Darkroom) -> Pieces {
    let (sheet, surround) = (&scene.sheet, page.surround);
    let (marks, margins) = match surround {
        Surround::Marks => printers_marks::around(scene),
        Surround::Bleed => (Vec::new(), Margins::between(sheet.trim, sheet.bleed)),
        Surround::Trim => (Vec::new(), Margins::NONE),
    };
    let boxes = PageBoxes::new(sheet, margins, surround != Surround::Trim);
    let standard = page.standard;
    let mut forme = Forme::new(scene, boxes, darkroom);
    forme.pdf.set_version(standard.pdf.0, standard.pdf.1);
    (forme.packing, forme.jpeg, forme.layered) = (page.packing, page.jpeg, standard.layers);
    let [catalog, pages, leaf, contents] = std::array::from_fn(|_| forme.id());
    forme.gather_fonts();

    let mut content = forme.content();
    let room = if surround == Surround::Trim { sheet.trim } else { sheet.bleed };
    forme.draw_within(&mut content, room, &scene.items, page.composed);
    forme.draw(&mut content, &marks);
    forme.write_fonts();
    let profile = forme.write_profile();

    forme.pdf.stream(contents, &deflate(&content.bytes)).filter(Filter::FlateDecode);
    forme.pdf.pages(pages).kids([leaf]).count(1);
    let boxes = &forme.boxes;
    let mut leaf = forme.pdf.page(leaf);
    leaf.parent(pages).media_box(rect(boxes.media)).bleed_box(rect(boxes.bleed)).trim_box(rect(boxes.trim));
    leaf.contents(contents);
    content.resources(&mut leaf.resources());
    if scene.is_transparent() {
        leaf.group().transparency().isolated(true).color_space().device_cmyk();
    }
    drop(leaf);

    let identity = Identity::of(&scene.job, &forme.written());
    let metadata = forme.write_metadata(&identity, Some(standard));
    let mut root = forme.pdf.catalog(catalog);
    root.pages(pages).metadata(metadata);
    if !scene.job.language.is_empty() {
        root.lang(TextStr(&scene.job.language));
    }
    intent::write(&mut root, scene.profile.condition(), scene.profile.name(), profile);
    let layers: Vec<Ref> = forme.layers.values().copied().collect();
    layers::write(&layers, "Finishing", &mut root);
    drop(root);
    forme.finish()
}
