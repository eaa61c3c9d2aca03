//! Objects of a PDF, written by hand.

use std::fmt::Write as _;

/// ISO 32000-1, 7.5: objects, their places, a trailer.
pub fn pdf(objects: &[String]) -> Vec<u8> {
    let (mut file, mut places) = ("%PDF-1.6\n".to_owned(), String::new());
    for (at, object) in objects.iter().enumerate() {
        writeln!(places, "{:010} 00000 n ", file.len()).expect("a string takes every line");
        write!(file, "{} 0 obj\n{object}\nendobj\n", at + 1).expect("a string takes every line");
    }
    let (start, size) = (file.len(), objects.len() + 1);
    write!(file, "xref\n0 {size}\n0000000000 65535 f \n{places}").expect("a string takes every line");
    let trailer = format!("trailer << /Size {size} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n");
    file.push_str(&trailer);
    file.into_bytes()
}
