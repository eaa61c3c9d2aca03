//! The press file: a PDF for the printer.

use crate::ground::Packing;
use crate::output::composed::composed;
use crate::output::entry::{Output, OutputFile, OutputJob};
use crate::output::fewer::with_fewer_pixels;
use crate::pdf::{self, PressPage};
use crate::scene::{Media, PressStandard, Surround, USUAL_FINEST};
use crate::source::{Word, choice, number, words_of};

pub const OUTPUT: Output = Output {
    word: Word::new("press", "the press PDF, for the printer")
        .takes(&[choice("what stands around the trim", &["marks", "bleed", "trim"])])
        .properties(&[STANDARD, FINEST, JPEG, PACKING])
        .default("marks"),
    files: &["press.pdf"],
    for_press: true,
    on_request: false,
    media: Media::Print,
    write,
};

const STANDARD: Word = Word::new("standard", "PDF/X-4, or PDF/X-1a:2003, which knows no transparency")
    .takes(&[choice("a standard", &PressStandard::WORDS)])
    .default("x-4");
const FINEST: Word = Word::new("finest", "pictures with more pixels per inch are scaled down to so many")
    .takes(&[number("pixels per inch", 150.0, 2400.0)])
    .or(&[choice("pixels per inch, or none", &["none"])])
    .default(USUAL_FINEST);
const JPEG: Word =
    Word::new("jpeg", "pictures as JPEGs of this quality: far fewer bytes, and no longer the very pixels")
        .takes(&[number("a quality", 60.0, 100.0)]);
const PACKING: Word = Word::new("packing", "`small` takes time for fewer bytes; nothing is lost either way")
    .takes(&[choice("a packing", &words_of(&Packing::WORDS))])
    .default("quick");

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let surround = match job.settings.word {
        "bleed" => Surround::Bleed,
        "trim" => Surround::Trim,
        _ => Surround::Marks,
    };
    let chosen = job.settings.press;
    let fewer = chosen.finest.and_then(|finest| with_fewer_pixels(job.scene, finest));
    let scene = fewer.as_ref().unwrap_or(job.scene);
    let flat = (!chosen.standard.transparency).then(|| composed(scene, chosen.packing, job.darkroom)).flatten();
    let pictures = flat.as_ref().map_or(&[][..], |flat| &flat.pictures);
    let page = PressPage {
        surround,
        standard: chosen.standard,
        packing: chosen.packing,
        jpeg: chosen.jpeg,
        composed: pictures,
    };
    let bytes = pdf::write(flat.as_ref().map_or(scene, |flat| &flat.scene), &page, job.darkroom);
    vec![OutputFile { name: "press.pdf".to_owned(), bytes }]
}
