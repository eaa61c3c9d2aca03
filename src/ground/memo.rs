//! Memo: results that are slow to make, remembered by digest within a limit; the least recently used goes first.

use crate::ground::Digest;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Shared between threads.
pub struct Memo<V> {
    limit: usize,
    weigh: fn(&V) -> usize,
    kept: Mutex<Kept<V>>,
}

struct Kept<V> {
    weight: usize,
    /// Counts uses; the number of an entry's last use is its place in the order.
    uses: u64,
    entries: BTreeMap<Digest, Entry<V>>,
    order: BTreeMap<u64, Digest>,
}

struct Entry<V> {
    used: u64,
    weight: usize,
    value: Arc<V>,
}

impl<V> Memo<V> {
    /// Keeps no more than `limit`, in the unit of `weigh`. The newest stays whatever it weighs, until another comes: one
    /// build asks for the same large picture again and again.
    pub fn bounded(limit: usize, weigh: fn(&V) -> usize) -> Memo<V> {
        let kept = Kept { weight: 0, uses: 0, entries: BTreeMap::new(), order: BTreeMap::new() };
        Memo { limit, weigh, kept: Mutex::new(kept) }
    }

    pub fn get_or<E>(&self, key: Digest, make: impl FnOnce() -> Result<V, E>) -> Result<Arc<V>, E> {
        match self.get(key) {
            Some(found) => Ok(found),
            None => Ok(self.keep(key, make()?).0),
        }
    }

    pub fn get(&self, key: Digest) -> Option<Arc<V>> {
        self.lock().touch(key)
    }

    /// Keeps what was made, and says whether it is the first: two threads may make the same thing at once, and both go
    /// on with the one that was there first. They do not wait for each other: a waiting thread takes up other work and
    /// could end up waiting for a thing that it has put aside half made.
    pub fn keep(&self, key: Digest, made: V) -> (Arc<V>, bool) {
        let weight = (self.weigh)(&made);
        let made = Arc::new(made);
        let mut kept = self.lock();
        if let Some(first) = kept.touch(key) {
            return (first, false);
        }
        let used = kept.next_use();
        kept.order.insert(used, key);
        kept.entries.insert(key, Entry { used, weight, value: made.clone() });
        kept.weight += weight;
        while kept.weight > self.limit && kept.entries.len() > 1 {
            let Some((_, oldest)) = kept.order.pop_first() else { break };
            kept.weight -= kept.entries.remove(&oldest).map_or(0, |entry| entry.weight);
        }
        (made, true)
    }

    /// Keeps what was made in the place of what was kept before.
    pub fn renew(&self, key: Digest, made: V) -> Arc<V> {
        let mut kept = self.lock();
        if let Some(Entry { used, weight, .. }) = kept.entries.remove(&key) {
            kept.order.remove(&used);
            kept.weight -= weight;
        }
        drop(kept);
        self.keep(key, made).0
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Kept<V>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl<V> Kept<V> {
    fn next_use(&mut self) -> u64 {
        self.uses += 1;
        self.uses
    }

    fn touch(&mut self, key: Digest) -> Option<Arc<V>> {
        let now = self.next_use();
        let entry = self.entries.get_mut(&key)?;
        self.order.remove(&entry.used);
        self.order.insert(now, key);
        entry.used = now;
        Some(entry.value.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(name: &str) -> Digest {
        Digest::of(name.as_bytes())
    }

    #[test]
    fn the_least_recently_used_goes_first() {
        let memo = Memo::bounded(10, Vec::<u8>::len);
        for name in ["a", "b", "c"] {
            memo.keep(key(name), vec![0; 3]);
        }
        assert!(memo.get(key("a")).is_some());
        memo.keep(key("d"), vec![0; 3]);
        let left = ["a", "b", "c", "d"].map(|name| memo.get(key(name)).is_some());
        assert_eq!(left, [true, false, true, true]);
        // One of seven needs the room of two.
        memo.keep(key("e"), vec![0; 7]);
        assert_eq!(["a", "c", "d", "e"].map(|name| memo.get(key(name)).is_some()), [false, false, true, true]);
        assert_eq!(memo.lock().weight, 10);
    }

    #[test]
    fn too_heavy_a_thing_stays_until_the_next() {
        let memo = Memo::bounded(10, Vec::<u8>::len);
        memo.keep(key("light"), vec![0; 3]);
        memo.keep(key("heavy"), vec![0; 11]);
        assert!(memo.get(key("heavy")).is_some() && memo.get(key("light")).is_none());
        memo.keep(key("light"), vec![0; 3]);
        assert!(memo.get(key("heavy")).is_none() && memo.get(key("light")).is_some());
    }

    #[test]
    fn the_first_one_made_is_everybodys() {
        let memo = Memo::bounded(10, |_: &u8| 1);
        assert_eq!(memo.get_or(key("a"), || Err("fails")), Err("fails"));
        assert_eq!(memo.keep(key("a"), 1), (Arc::new(1), true));
        assert_eq!(memo.keep(key("a"), 2), (Arc::new(1), false));
        assert_eq!(memo.get_or(key("a"), || Err("is not asked")).as_deref(), Ok(&1));
    }

    #[test]
    fn many_threads_stay_within_the_bound() {
        let memo = Memo::bounded(1000, Vec::<u8>::len);
        std::thread::scope(|scope| {
            for thread in 0..4_usize {
                let memo = &memo;
                scope.spawn(move || {
                    for step in 0..2000_usize {
                        let name = (step * 7 + thread * 3) % 50;
                        let made = memo.get_or(key(&name.to_string()), || Ok::<_, ()>(vec![name as u8; name]));
                        assert_eq!(made.expect("is made").len(), name);
                    }
                });
            }
        });
        let kept = memo.lock();
        assert_eq!(kept.weight, kept.entries.values().map(|entry| entry.weight).sum::<usize>());
        assert!(kept.weight <= 1000 && kept.order.len() == kept.entries.len());
    }
}
