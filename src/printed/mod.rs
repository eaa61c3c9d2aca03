//! PDFs of others: boxes, fonts, inks, pictures, overprint and straight lines of a page.

mod bounds;
mod colour_space;
mod content;
mod difference;
mod differences;
mod known;
mod page;
mod painted;
mod plates;
mod read;
#[cfg(test)]
mod tests;

pub use difference::PdfDifference;
pub use differences::differences;
pub use known::known_page;
pub use page::{PageLine, PrintedPage};
pub use read::read_pdf;
