//! Stored: the light of a view as bytes, so that it outlasts the process.

use crate::view::light::Light;

/// The bytes of a light, and back. Bytes that are none are nothing.
pub fn to_bytes(light: &Light) -> Vec<u8> {
    postcard::to_stdvec(light).expect("numbers and lists of numbers can always be written")
}

pub fn from_bytes(bytes: &[u8]) -> Option<Light> {
    postcard::from_bytes(bytes).ok().filter(Light::is_whole)
}
