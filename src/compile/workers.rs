//! Workers: many covers at once, on so many threads; their results come in order.

use rayon::ThreadPool;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::channel;

/// Covers in work beyond the processors: while one waits for the disk, another takes its place.
const SPARE: usize = 1;

/// Work on a cover in two steps: `prepare` has the processors to itself, `write` waits for the disk meanwhile, and says what
/// still needs processors.
pub struct Steps<Prepare, Write> {
    pub prepare: Prepare,
    pub write: Write,
}

/// The threads that compute, as a thread beside them sees them.
#[derive(Clone, Copy, Default)]
pub struct Processors<'a>(Option<&'a ThreadPool>);

impl Processors<'_> {
    /// Has something computed, and waits for it.
    pub fn compute<T: Send>(self, work: impl FnOnce() -> T + Send) -> T {
        match self.0 {
            Some(pool) => pool.install(work),
            None => work(),
        }
    }
}

/// Works on `count` covers and hands over what came of each, in order, as soon as all before it are done. No more covers
/// are in work than there are `jobs` and one, so memory does not grow with their number. Zero lets the processors be
/// counted.
pub fn work_through<U, T: Send>(
    jobs: usize,
    count: usize,
    steps: &Steps<impl Fn(usize) -> U + Sync, impl Fn(usize, U, Processors<'_>) -> T + Sync>,
    mut done: impl FnMut(usize, T),
) where
    U: Send,
{
    let jobs = if jobs == 0 { std::thread::available_parallelism().map_or(1, usize::from) } else { jobs };
    // Within a cover the work is shared out, too; the whole keeps to so many threads.
    let pool = rayon::ThreadPoolBuilder::new().num_threads(jobs).build();
    let processors = Processors(pool.as_ref().ok());
    let work = |at: usize| (steps.write)(at, processors.compute(|| (steps.prepare)(at)), processors);
    let next = AtomicUsize::new(0);
    let (sender, results) = channel();
    std::thread::scope(|scope| {
        for _ in 0..(jobs + SPARE).min(count) {
            let sender = sender.clone();
            let (next, work) = (&next, &work);
            scope.spawn(move || {
                loop {
                    let at = next.fetch_add(1, Ordering::Relaxed);
                    if at >= count || sender.send((at, work(at))).is_err() {
                        return;
                    }
                }
            });
        }
        drop(sender);
        let mut waiting = BTreeMap::new();
        let mut expected = 0;
        for (at, result) in results {
            waiting.insert(at, result);
            while let Some(result) = waiting.remove(&expected) {
                done(expected, result);
                expected += 1;
            }
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_order_and_no_more_are_in_work_than_jobs() {
        for jobs in [1, 2, 7] {
            let [thinking, most, in_work, all] = [const { AtomicUsize::new(0) }; 4];
            let mut results = Vec::new();
            let prepare = |at: usize| {
                all.fetch_max(in_work.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
                most.fetch_max(thinking.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
                // The first take longest.
                (0..(50 - at) * 2000).for_each(|number| _ = std::hint::black_box(number));
                thinking.fetch_sub(1, Ordering::SeqCst);
                at
            };
            let write = |at: usize, prepared: usize, _: Processors<'_>| {
                std::thread::sleep(std::time::Duration::from_micros(200));
                in_work.fetch_sub(1, Ordering::SeqCst);
                at * prepared
            };
            work_through(jobs, 50, &Steps { prepare, write }, |at, square| results.push((at, square)));
            assert_eq!(results, (0..50).map(|at| (at, at * at)).collect::<Vec<_>>());
            assert!(most.load(Ordering::SeqCst) <= jobs);
            assert!((jobs..=jobs + SPARE).contains(&all.load(Ordering::SeqCst)));
        }
        work_through(2, 0, &Steps { prepare: |_| (), write: |_, (), _: Processors<'_>| () }, |_, ()| {
            panic!("there are no results")
        });
    }
}
