//! The language of covers: its words, trees laid over each other, rows of tables, and how a tree becomes a design.

mod elements;
mod fillings;
mod lists;
mod look;
mod node;
mod nodes;
mod overlay;
mod place;
mod price;
mod range;
mod read;
mod row;
mod waivers;
mod words;

pub use elements::{counted, element_words, in_order, is_stated, read_element, read_elements, suppose};
pub use fillings::{Fillings, read_ink};
pub use lists::List;
pub use look::read_look;
pub use node::{Context, DEPTH_LIMIT, Desk, ELEMENT_LIMIT, Node, Role};
pub use nodes::NODES;
pub use overlay::{judge_drops, overlay, settled};
pub use place::read_place;
pub use range::{percent, percent_property, ranged, ranged_length, says_word};
pub use read::{measures, read};
pub use row::{Title, judge_columns, numbers_twice, slugs_twice, title};
pub use words::{USUAL as USUAL_FACTS, facts_in, fill as fill_words, fill_path};
