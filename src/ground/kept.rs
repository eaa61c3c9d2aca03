//! Kept: property tests draw new lots in every run; one that fails is kept in a file under `tests/lots/`, in the
//! repository, and tried again by every run ever after.

use proptest::test_runner::{FailurePersistence, FileFailurePersistence};

/// The file from the root of the house, which is where tests run.
pub fn kept(file: &'static str) -> Option<Box<dyn FailurePersistence>> {
    Some(Box::new(FileFailurePersistence::Direct(file)))
}
