//! Kept: property tests draw new lots in every run; one that fails is kept in a file under `tests/lots/`, in the
//! repository, and every later run tries it again.

use proptest::test_runner::{FailurePersistence, FileFailurePersistence};

/// The path of the file, from the root of the repository, where tests run.
pub fn kept(file: &'static str) -> Option<Box<dyn FailurePersistence>> {
    Some(Box::new(FileFailurePersistence::Direct(file)))
}
