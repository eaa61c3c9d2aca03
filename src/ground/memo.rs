//! Memo: dear things, remembered by digest for as long as builds go on asking for them.

use crate::ground::Digest;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Shared between threads. What no build has asked for since the sweep before last is forgotten.
pub struct Memo<V> {
    kept: Mutex<Kept<V>>,
}

struct Kept<V> {
    generation: u64,
    entries: BTreeMap<Digest, (u64, Arc<V>)>,
}

impl<V> Default for Memo<V> {
    fn default() -> Self {
        Memo { kept: Mutex::new(Kept { generation: 0, entries: BTreeMap::new() }) }
    }
}

impl<V> Memo<V> {
    pub fn get_or<E>(&self, key: Digest, make: impl FnOnce() -> Result<V, E>) -> Result<Arc<V>, E> {
        if let Some(found) = self.get(key) {
            return Ok(found);
        }
        // Made outside the lock: two threads may make the same thing, neither waits for another's work.
        let made = Arc::new(make()?);
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let generation = kept.generation;
        Ok(kept.entries.entry(key).or_insert((generation, made)).1.clone())
    }

    pub fn get(&self, key: Digest) -> Option<Arc<V>> {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let generation = kept.generation;
        let entry = kept.entries.get_mut(&key)?;
        entry.0 = generation;
        Some(entry.1.clone())
    }

    /// Call after a build: what neither this build nor the one before asked for is dropped.
    pub fn sweep(&self) {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let generation = kept.generation;
        kept.entries.retain(|_, (used, _)| *used + 1 >= generation);
        kept.generation += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count<V>(memo: &Memo<V>) -> usize {
        memo.kept.lock().expect("no other test holds it").entries.len()
    }

    #[test]
    fn remembers_then_forgets() {
        let memo = Memo::default();
        let key = Digest::of(b"a");
        assert_eq!(memo.get_or(key, || Ok::<_, ()>(1)).as_deref(), Ok(&1));
        // One build that does not ask for it leaves it, a second forgets it.
        memo.sweep();
        assert_eq!(count(&memo), 1);
        memo.sweep();
        memo.sweep();
        assert_eq!(count(&memo), 0);
    }
}
