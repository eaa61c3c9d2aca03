//! The press file: a PDF for the printer.

use crate::assets::Darkroom;
use crate::output::entry::{Output, OutputFile};
use crate::pdf;
use crate::scene::{OutputChoices, OutputSettings, Scene, Surround};

pub const OUTPUT: Output = Output {
    name: "press",
    manual: "the press PDF, for the printer",
    files: &["press.pdf"],
    for_press: true,
    choices: OutputChoices { about: "what stands around the trim", words: &["marks", "bleed", "trim"], ppi: None },
    write,
};

fn write(scene: &Scene, settings: &OutputSettings, darkroom: &Darkroom) -> Vec<OutputFile> {
    let surround = match settings.word {
        "bleed" => Surround::Bleed,
        "trim" => Surround::Trim,
        _ => Surround::Marks,
    };
    let bytes = pdf::write(scene, surround, darkroom);
    vec![OutputFile { name: "press.pdf".to_owned(), bytes }]
}
