//! What was asked of a build and what it came to: the order, the design with its findings, the outline, the report.

mod area;
mod book_facts;
mod built;
mod outline;
mod report;
mod request;

pub use area::Area;
pub use book_facts::{book_facts, safe_areas};
pub use built::{Built, Design, TABLE};
pub use outline::{
    CoverOutline, ReportedElement, ReportedFinding, ReportedFont, ReportedMeasure, ReportedPicture, ReportedSpot, Tone,
};
pub use report::{OutputEntry, REPORT, located, report};
pub use request::{CatalogueTable, CatalogueTitle, CoverRequest};
