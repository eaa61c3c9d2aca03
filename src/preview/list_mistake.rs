//! List mistake: what is wrong with the list of covers as a whole, such as a catalogue with a row too many.

use crate::ground::Severity;
use crate::record::{LocatedFinding, located};
use crate::targets::{Refusal, TargetList};
use serde::Serialize;
use std::fmt;

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ListMistake {
    severity: Severity,
    /// Empty where no file is at fault.
    file: String,
    line: usize,
    message: String,
    help: Option<String>,
}

/// What stands in the way of a list, or is wrong with it.
pub fn list_mistakes(list: &Result<TargetList, Refusal>) -> Vec<ListMistake> {
    match list {
        Err((message, help)) => {
            let (message, help) = (message.clone(), Some(help.clone()));
            vec![ListMistake { severity: Severity::Error, file: String::new(), line: 0, message, help }]
        }
        Ok(list) => {
            let built = list.catalogues.iter().map(|(_, built)| built);
            let found = built.flat_map(|built| built.findings.iter().map(|finding| located(&built.files, finding)));
            found
                .map(|LocatedFinding { severity, file, line, message, help, .. }| ListMistake {
                    severity,
                    file,
                    line,
                    message,
                    help,
                })
                .collect()
        }
    }
}

/// As the terminal shows it.
impl fmt::Display for ListMistake {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.file.is_empty() {
            write!(f, "{}:{}: {}: ", self.file, self.line, self.severity.word())?;
        }
        writeln!(f, "{}", self.message)?;
        self.help.as_ref().map_or(Ok(()), |help| writeln!(f, "  help: {help}"))
    }
}
