//! The design: the facts of a book, its sheet, and the elements that stand on it.

mod absent;
mod barcode;
mod draw;
mod facts;
mod format;
mod guides;
mod isbn;
mod layout;
mod look;
mod measure;
mod model;
mod palette;
mod panels;
mod pen;
mod place;
mod reading;
mod unseen;
mod waiver;

pub use absent::Absent;
pub use barcode::{BarCode, SCALES, Setting, Symbol};
pub use draw::draw;
pub use facts::{Book, Extent, Facts, Press, TypeStyle};
pub use format::{Binding, Board, Format, Paper, Spine, SpineShape};
pub use guides::{Axis, Baselines, Guide, Guides, Level, Region, Side, spine_clearance};
pub use isbn::Isbn;
pub use layout::Layout;
pub use look::{Clip, Look, Order, oval};
pub use measure::Measure;
pub use model::{Bench, Cover, Draw, Element, FirstLine, Limit, Natural, Open};
pub use palette::{Palette, ready_mixed, spot_of};
pub use panels::{Flat, flat};
pub use pen::{Pen, draw_one};
pub use place::{Edge, From, Place, Stretch};
pub use reading::Reading;
pub use unseen::Unseen;
pub use waiver::{Reach, Waiver};
