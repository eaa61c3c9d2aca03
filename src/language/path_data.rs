//! Path data: a path as SVG writes it, in millimetres.

use crate::ground::{Path, Spanned};
use crate::source::Reader;

/// The path, or what is wrong with it, reported where it stands.
pub fn path_data(reader: &Reader<'_>, data: &Spanned<String>) -> Option<Path> {
    match Path::from_svg(&data.value) {
        Ok(path) if path.elements().len() > 1 && path.is_finite() => Some(path),
        Ok(_) => {
            reader.error(data.span, "this path draws nothing", "write at least a start and a line: \"M0 0 L10 0\"");
            None
        }
        Err(fault) => {
            reader.error(
                data.span,
                format!("this is not path data: {}", fault.to_string().to_lowercase()),
                "see the path data of SVG 1.1, section 8.3",
            );
            None
        }
    }
}
