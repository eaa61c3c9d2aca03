//! Crew: many covers at once, on so many threads, told in their order.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::channel;

/// Works on `count` covers and hands over what came of each, in order, as soon as all before it are done. No more covers
/// are in work than there are `jobs`, so memory does not grow with their number. Zero lets the processors be counted.
pub fn crew<T: Send>(jobs: usize, count: usize, work: impl Fn(usize) -> T + Sync, mut told: impl FnMut(usize, T)) {
    let jobs = if jobs == 0 { std::thread::available_parallelism().map_or(1, usize::from) } else { jobs };
    // Within a cover the work is shared out, too; the whole keeps to so many threads.
    let pool = rayon::ThreadPoolBuilder::new().num_threads(jobs).build();
    let within = |at: usize| match &pool {
        Ok(pool) => pool.install(|| work(at)),
        Err(_) => work(at),
    };
    let next = AtomicUsize::new(0);
    let (done, results) = channel();
    std::thread::scope(|scope| {
        for _ in 0..jobs.min(count) {
            let done = done.clone();
            let (next, within) = (&next, &within);
            scope.spawn(move || {
                loop {
                    let at = next.fetch_add(1, Ordering::Relaxed);
                    if at >= count || done.send((at, within(at))).is_err() {
                        return;
                    }
                }
            });
        }
        drop(done);
        let mut waiting = BTreeMap::new();
        let mut expected = 0;
        for (at, result) in results {
            waiting.insert(at, result);
            while let Some(result) = waiting.remove(&expected) {
                told(expected, result);
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
            let (now, most) = (AtomicUsize::new(0), AtomicUsize::new(0));
            let mut told = Vec::new();
            let work = |at: usize| {
                most.fetch_max(now.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
                // The first take longest.
                (0..(50 - at) * 2000).for_each(|number| _ = std::hint::black_box(number));
                now.fetch_sub(1, Ordering::SeqCst);
                at * at
            };
            crew(jobs, 50, work, |at, square| told.push((at, square)));
            assert_eq!(told, (0..50).map(|at| (at, at * at)).collect::<Vec<_>>());
            assert!(most.load(Ordering::SeqCst) <= jobs);
        }
        crew(2, 0, |_| (), |_, ()| panic!("there is nothing to tell"));
    }
}
