//! Scene to PDF.

use crate::assets::Darkroom;
use crate::scene::Scene;
pub use crate::scene::Surround;

/// The press file: PDF/X-4.
pub fn write(scene: &Scene, surround: Surround, darkroom: &Darkroom) -> Vec<u8> {
    let _ = (scene, surround, darkroom);
    unimplemented!()
}
