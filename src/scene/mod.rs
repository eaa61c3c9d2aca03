//! What will be printed: the sheet and its marks, in ink and millimetres.

mod book_shape;
mod book_view;
mod bounds;
mod drift;
mod flat_region;
mod flat_work;
mod item;
mod job_line;
mod media;
mod output_settings;
mod panel_name;
mod picture_words;
mod press_settings;
mod scaled_down;
mod sheet;
mod sketch;
mod standard;
mod standing;
#[cfg(any(test, feature = "testing"))]
mod text;
mod transparency;
mod walk;
mod words;

pub use book_shape::{BoardSizes, BookShape, CoverKind, Flaps, Lamination, PaperShade};
pub use book_view::{Backdrop, BookView, Grouping, Pose};
pub use drift::Drift;
pub use flat_region::FlatRegion;
pub use item::{GlyphRun, Group, Item, Kind, Mark, Origin, PlacedPicture};
pub use media::Media;
pub use output_settings::{Delivery, OtherRatio, OutputSettings};
pub use panel_name::{PanelName, Surface};
pub use picture_words::{document_id, picture_words, uuid};
pub use press_settings::{PressSettings, USUAL_FINEST};
pub use scaled_down::ScaledDown;
pub use sheet::{Fold, FoldKind, Job, Panel, PixelSize, Scene, Sheet, StandingBook, Surround};
pub use sketch::Sketch;
pub use standard::{NamedIn, PressStandard, X4};
pub use standing::{ApprovalStanding, Standing};
pub use transparency::is_stencil;
pub use words::{lines_of, words_of};
