//! Keep: where bytes that are slow to make outlast the process; a folder on a disk, or nothing.

use crate::ground::Digest;

/// Bytes by kind and by the digest of all that they are made of. A keep may forget whatever it likes, but what it gives
/// is what was put.
pub trait Keep: Send + Sync {
    fn get(&self, kind: &'static str, key: Digest) -> Option<Vec<u8>>;

    fn put(&self, kind: &'static str, key: Digest, bytes: &[u8]);
}
