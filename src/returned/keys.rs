//! Keys: what the dictionary of a stream says of it, under whole names or short ones.

use crate::printed::name_text;
use hayro_syntax::object::{Dict, Name, Object, Stream};

/// A picture within the content of a page writes its keys short (ISO 32000-1, table 93).
pub fn key(dict: &Dict<'_>, whole: &'static str) -> &'static str {
    let short = match whole {
        "Width" => "W",
        "Height" => "H",
        "BitsPerComponent" => "BPC",
        "ColorSpace" => "CS",
        "Decode" => "D",
        "Filter" => "F",
        "ImageMask" => "IM",
        other => other,
    };
    if dict.contains_key(whole) { whole } else { short }
}

pub fn whole(dict: &Dict<'_>, name: &'static str) -> Option<u32> {
    dict.get::<u32>(key(dict, name))
}

/// The names of the filters that a stream goes through.
pub fn filters(stream: &Stream<'_>) -> Vec<String> {
    match stream.dict().get::<Object<'_>>(key(stream.dict(), "Filter")) {
        Some(Object::Array(all)) => all.iter::<Name<'_>>().map(|name| filter(&name)).collect(),
        Some(Object::Name(name)) => vec![filter(&name)],
        _ => Vec::new(),
    }
}

fn filter(name: &Name<'_>) -> String {
    match name_text(name).as_str() {
        "Fl" => "FlateDecode".to_owned(),
        "DCT" => "DCTDecode".to_owned(),
        "AHx" => "ASCIIHexDecode".to_owned(),
        "A85" => "ASCII85Decode".to_owned(),
        other => other.to_owned(),
    }
}
