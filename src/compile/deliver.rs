//! Deliver: the files of a build, made ready and written; with errors the press file is withdrawn.

use crate::assets::Darkroom;
use crate::compile::marked::marked;
use crate::disk::{Seen, Store};
use crate::disk::{WriteFault, same, withdraw, write};
use crate::ground::Digest;
use crate::output::{Delivery, OUTPUTS, OutputFile};
use crate::record::Built;
use crate::record::{Output, report};
use crate::scene::Surround;
use crate::targets::Target;
use std::path::{Path, PathBuf};

/// What is wanted of a build.
#[derive(Clone, Debug, Default)]
pub struct Order {
    /// Names of outputs, and `report`. Empty: all.
    pub only: Vec<String>,
    /// Instead of what the cover says.
    pub surround: Option<Surround>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Delivered {
    /// In the order of writing.
    pub written: Vec<Written>,
    /// An older press file that was taken away.
    pub withdrawn: Option<PathBuf>,
    /// All was there already, and known to be what would be made now.
    pub unchanged: bool,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    pub path: PathBuf,
    pub bytes: u64,
    pub sha256: Digest,
}

pub const PRESS: &str = "press";

pub fn press_file(target: &Target) -> PathBuf {
    target.out.join(format!("{}-{PRESS}.pdf", target.stem))
}

/// Takes away an older press file, where its cover could not be finished; nobody is there any more to be told of a disk
/// that refuses.
pub fn withdraw_press(target: &Target) {
    let _ = withdraw(&press_file(target));
}

pub const REPORT: &str = "report";
/// Panels that a binding may have: the pictures of those that a cover has no longer are taken away.
const PANELS: [&str; 5] = ["front", "spine", "back", "front-flap", "back-flap"];

impl Order {
    fn wants(&self, name: &str) -> bool {
        self.only.is_empty() || self.only.iter().any(|only| only == name)
    }
}

/// A file to be written: whole, named and summed.
pub struct Ready {
    name: String,
    bytes: Vec<u8>,
    sha256: Digest,
}

/// The bytes of `STEM-press.pdf`, `STEM-flat.png`, one picture a panel, and `STEM-report.json`.
pub fn ready(
    built: &Built,
    inputs: &[(String, Digest)],
    darkroom: &Darkroom,
    order: &Order,
    target: &Target,
) -> Vec<Ready> {
    let stem = &target.stem;
    let whole = |name: String, bytes: Vec<u8>| Ready { name, sha256: Digest::of_file(&bytes), bytes };
    let made = made(built, darkroom, order).into_iter();
    let mut files: Vec<Ready> = made
        .map(|OutputFile { suffix, extension, bytes }| whole(format!("{stem}-{suffix}.{extension}"), bytes))
        .collect();
    if order.wants(REPORT) {
        let outputs = files.iter().map(|Ready { name, bytes, sha256 }| Output {
            file: name.clone(),
            bytes: bytes.len() as u64,
            sha256: sha256.to_string(),
        });
        let outputs = outputs.collect();
        files.push(whole(format!("{stem}-{REPORT}.json"), report(built, inputs, outputs)));
    }
    files
}

/// Writes the files of a build into the folder of its target.
pub fn deliver(
    built: &Built,
    files: Vec<Ready>,
    seen: &Seen,
    target: &Target,
    store: Option<&Store>,
) -> Result<Delivered, WriteFault> {
    let mut delivered = Delivered::default();
    // Whatever is ordered: a press file must not outlive the errors of its cover.
    let press = press_file(target);
    if built.findings.has_errors() && withdraw(&press)? {
        delivered.withdrawn = Some(press);
    }
    for Ready { name, bytes, sha256 } in files {
        let path = target.out.join(name);
        if reads(seen, &path) {
            let why = "the cover reads it; write into another folder, with --out".to_owned();
            return Err(WriteFault { path, why });
        }
        write(&path, &bytes)?;
        if let Some(store) = store {
            store.file_put(&bytes, sha256);
        }
        delivered.written.push(Written { path, bytes: bytes.len() as u64, sha256 });
    }
    clear(target, seen, &delivered.written)?;
    Ok(delivered)
}

/// Takes away the pictures of panels that a cover has no longer, when those that it has were written. True when there
/// were some.
pub fn clear(target: &Target, seen: &Seen, written: &[Written]) -> Result<bool, WriteFault> {
    let paths = PANELS.map(|panel| target.out.join(format!("{}-{panel}.png", target.stem)));
    let (now, stale): (Vec<_>, Vec<_>) =
        paths.iter().partition(|path| written.iter().any(|written| written.path == **path));
    let mut cleared = false;
    for path in stale.into_iter().filter(|path| !now.is_empty() && !reads(seen, path)) {
        cleared |= withdraw(path)?;
    }
    Ok(cleared)
}

/// Whether a place to write at is a file that the cover is made of.
pub fn reads(seen: &Seen, path: &Path) -> bool {
    seen.0.keys().any(|place| place.file_name() == path.file_name() && same(place, path))
}

/// The bytes of all that is ordered and may be had.
fn made(built: &Built, darkroom: &Darkroom, order: &Order) -> Vec<OutputFile> {
    let Some(design) = &built.design else { return Vec::new() };
    let surround = order.surround.unwrap_or(design.delivery.surround);
    let delivery = Delivery { surround, ..design.delivery };
    let faulty = built.findings.has_errors();
    let shown = if faulty { &marked(&design.scene, &built.findings) } else { &design.scene };
    let wanted = OUTPUTS.iter().filter(|output| order.wants(output.name) && !(faulty && output.name == PRESS));
    wanted.flat_map(|output| (output.write)(shown, &delivery, darkroom)).collect()
}
