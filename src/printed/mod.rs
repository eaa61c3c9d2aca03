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

pub use colour_space::{ColourSpace, PrintedColour, text as name_text};
pub use content::number as number_of;
pub use difference::PdfDifference;
pub use differences::differences;
pub use known::known_page;
pub use page::{PageLine, PrintedPage};
pub use read::{open_page, read_pdf};
