//! What was asked of a build and what it came to: the order, the design with its findings, the outline, the report.

mod area;
mod book_facts;
mod built;
mod located;
mod outline;
mod report;
mod reported_ink_over;
mod reported_plate;
mod request;

pub use area::{Area, area, round};
pub use book_facts::{book_facts, levels, safe_areas, triable};
pub use built::{AlikeSize, Built, Design, TABLE};
pub use located::{LocatedFinding, LocatedSubject, located};
pub use outline::{
    CoverOutline, ReportedElement, ReportedFinding, ReportedFont, ReportedMeasure, ReportedPanel, ReportedPicture,
    ReportedSpot, Tone, placed_elements, sheet, sums,
};
pub use report::{OutputEntry, REPORT, report};
pub use reported_ink_over::ReportedInkOver;
pub use reported_plate::ReportedPlate;
pub use request::{CatalogueTable, CatalogueTitle, CoverRequest};
