//! The language of covers: its words, trees laid over each other, rows of tables, and how a tree becomes a design.

mod alike;
mod context;
mod elements;
mod fillings;
mod headword;
#[cfg(test)]
mod laws;
mod lettering;
mod lists;
mod look;
mod named_ink;
mod nodes;
mod order;
mod overlay;
mod path_data;
mod place;
mod price;
mod read;
mod row;
mod stated;
mod summary;
mod usual;
mod verdicts;
mod vocabulary;
mod words;

pub use alike::{asks_alike, for_sizes};
pub use context::{AlikeSizes, Desk};
#[cfg(any(test, feature = "testing"))]
pub use headword::Role;
pub use nodes::book::{BOOK, FACT};
pub use nodes::deliver::usual_settings;
pub use nodes::format::{FORMAT, PAPER, WAYS as PAPER_WAYS};
pub use nodes::limit::stated_limits;
pub use nodes::printer::{PRINTER_WORDS, printer_asks};
pub use nodes::{HEADWORDS, LAYER_WORDS};
pub use overlay::{judge_drops, overlay, settled};
pub use read::{measures, read};
pub use row::{Title, judge_columns, numbers_twice, stems_twice, title};
pub use summary::page;
pub use vocabulary::{vocabulary, words_at};
pub use words::facts_in;
