//! The stages in order, from a target to finished files.

mod alike;
mod build_run;
mod deliver;
mod known_sizes;
mod make;
mod noting_shelf;
mod output_lists;
mod particulars;
mod pipeline;
mod stage_tools;
mod stages;
mod tidy;
mod unchanged;
mod workers;
mod workshop;

pub use build_run::{BuildOptions, BuildRun};
pub use deliver::{Delivered, chosen_settings, withdraw_unfinished};
pub use make::{BuildResult, PreparedCover, finish, prepare, write_built};
pub use output_lists::{TakenAway, WrittenFile, leftovers, take_away};
pub use particulars::particulars;
pub use pipeline::{build, limits, measure, rehearsed};
pub use tidy::{TidyResult, tidy};
pub use unchanged::request;
pub use workers::{Processors, Steps, work_through};
pub use workshop::{Laps, Workshop};
