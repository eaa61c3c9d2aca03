//! Linked: pictures that a drawing shows and that lie in files of their own.

use crate::assets::drawing::{bounds, entities, markup};
use std::collections::BTreeSet;

/// Their paths, as the drawing writes them: the first ones, if there are more than a drawing may have.
pub fn linked(bytes: &[u8]) -> BTreeSet<String> {
    let text = std::str::from_utf8(bytes).ok().filter(|text| text.contains("image"));
    let text = text.and_then(|text| entities::written_out(text).ok()).filter(|text| markup::bounded(text).is_ok());
    let Some(document) = text.as_ref().and_then(|text| markup::parsed(text).ok()) else { return BTreeSet::new() };
    let mut found = BTreeSet::new();
    let images = document.descendants().filter(|node| node.tag_name().name() == "image");
    let hrefs = images.flat_map(|node| node.attributes()).filter(|attribute| attribute.name() == "href");
    for href in hrefs.map(|href| href.value()).filter(|href| is_beside(href)) {
        if found.len() < bounds::PICTURES {
            found.insert(href.to_owned());
        }
    }
    found
}

/// Whether a reference is a path that counts from the folder of the drawing.
pub fn is_beside(href: &str) -> bool {
    !href.trim().is_empty() && !href.contains([':', '\\', '#', '?']) && !href.starts_with('/')
}
