//! PDFs of others: boxes, fonts, inks, pictures, overprint and straight lines of their first page.

mod bounds;
mod content;
mod differences;
mod page;
mod read;
#[cfg(test)]
mod tests;

pub use differences::{PdfDifference, differences};
pub use page::{PageLine, PrintedPage};
pub use read::read_pdf;
