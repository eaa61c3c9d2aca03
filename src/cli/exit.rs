//! Exit: how a command ended, for the caller.

use crate::ground::Findings;
use std::process::ExitCode;

/// Worse ones are greater.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// Nothing, or warnings only.
    Clean,
    /// Errors found.
    Errors,
    /// Could not run.
    Stopped,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        match exit {
            Exit::Clean => ExitCode::SUCCESS,
            Exit::Errors => ExitCode::from(1),
            Exit::Stopped => ExitCode::from(2),
        }
    }
}

impl From<&Findings> for Exit {
    fn from(findings: &Findings) -> Exit {
        if findings.has_errors() { Exit::Errors } else { Exit::Clean }
    }
}
