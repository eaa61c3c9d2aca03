//! The press file: a PDF for the printer.

use crate::assets::Darkroom;
use crate::output::delivery::{Delivery, Output, OutputFile};
use crate::pdf;
use crate::scene::Scene;

pub const OUTPUT: Output = Output { name: "press", write };

fn write(scene: &Scene, delivery: &Delivery, darkroom: &Darkroom) -> Vec<OutputFile> {
    let bytes = pdf::write(scene, delivery.surround, darkroom);
    vec![OutputFile { suffix: "press".to_owned(), extension: "pdf", bytes }]
}
