//! Deliver: the files of a build, named and written; with errors the press file is withdrawn.

use crate::assets::Darkroom;
use crate::build::report::{Output, report};
use crate::build::write::{WriteFault, withdraw, write};
use crate::build::{Built, Design};
use crate::ground::Digest;
use crate::pdf::Surround;
use std::path::{Path, PathBuf};

/// What is wanted of a build.
#[derive(Clone, Debug, Default)]
pub struct Order {
    /// Empty: every part.
    pub only: Vec<Part>,
    /// Instead of what the cover says.
    pub surround: Option<Surround>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    Press,
    Flat,
    Panels,
    Report,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Delivered {
    /// Path and length, in the order of writing.
    pub written: Vec<(PathBuf, u64)>,
    /// An older press file that was taken away.
    pub withdrawn: Option<PathBuf>,
}

impl Order {
    fn wants(&self, part: Part) -> bool {
        self.only.is_empty() || self.only.contains(&part)
    }
}

/// Writes `OUT/STEM-press.pdf`, `STEM-flat.png`, one picture a panel, and `STEM-report.json`.
pub fn deliver(
    built: &Built,
    inputs: &[(String, Digest)],
    darkroom: &Darkroom,
    order: &Order,
    out: &Path,
    stem: &str,
) -> Result<Delivered, WriteFault> {
    let mut delivered = Delivered::default();
    let mut outputs = Vec::new();
    let press = format!("{stem}-press.pdf");
    // Whatever is ordered: a press file must not outlive the errors of its cover.
    if built.findings.has_errors() && withdraw(&out.join(&press))? {
        delivered.withdrawn = Some(out.join(&press));
    }
    let mut keep = |name: &str, bytes: &[u8]| {
        write(&out.join(name), bytes)?;
        delivered.written.push((out.join(name), bytes.len() as u64));
        outputs.push(Output { file: name.to_owned(), bytes: bytes.len() as u64, digest: Digest::of(bytes).to_string() });
        Ok::<(), WriteFault>(())
    };
    if let Some(design) = &built.design {
        if order.wants(Part::Press) && !built.findings.has_errors() {
            let surround = order.surround.unwrap_or(design.surround);
            keep(&press, &crate::pdf::write(&design.scene, surround, darkroom))?;
        }
        for (name, bytes) in pictures(design, darkroom, order) {
            keep(&format!("{stem}-{name}.png"), &bytes)?;
        }
    }
    if order.wants(Part::Report) {
        let name = format!("{stem}-report.json");
        let bytes = report(built, inputs, outputs);
        write(&out.join(&name), &bytes)?;
        delivered.written.push((out.join(&name), bytes.len() as u64));
    }
    Ok(delivered)
}

/// The flat and the panels, by name.
fn pictures(design: &Design, darkroom: &Darkroom, order: &Order) -> Vec<(String, Vec<u8>)> {
    let sheet = &design.scene.sheet;
    let flat = (order.wants(Part::Flat)).then(|| ("flat".to_owned(), sheet.trim, design.flat_ppi));
    let panels = sheet.panels.iter().filter(|_| order.wants(Part::Panels));
    let panels = panels.map(|panel| (panel.name.to_owned(), panel.rect, design.panel_ppi));
    let drawn = flat.into_iter().chain(panels).map(|(name, area, ppi)| {
        let screen = crate::raster::plates(&design.scene, area, ppi, darkroom).screen(&design.scene.profile);
        (name, crate::build::stages::png(&screen, ppi))
    });
    drawn.collect()
}
