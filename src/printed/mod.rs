//! PDFs of others: boxes, fonts, inks, pictures, overprint and straight lines of a page.

mod bounds;
mod content;
mod differences;
mod known;
mod page;
mod read;
#[cfg(test)]
mod tests;

pub use differences::{PdfDifference, differences};
pub use known::known_page;
pub use page::{PageLine, PrintedPage};
pub use read::read_pdf;
