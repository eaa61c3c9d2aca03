//! Guard: a borrowed reader that panics on a file gives up on that file, and on nothing else.

use std::cell::Cell;
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook, take_hook};
use std::sync::Once;

thread_local! {
    static GUARDED: Cell<bool> = const { Cell::new(false) };
}

/// What `read` gives; `None` when it panics, and nothing of that is shown.
pub fn guarded<T>(read: impl FnOnce() -> T) -> Option<T> {
    static QUIET: Once = Once::new();
    QUIET.call_once(|| {
        let usual = take_hook();
        set_hook(Box::new(move |panic| {
            if !GUARDED.get() {
                usual(panic);
            }
        }));
    });
    let outer = GUARDED.replace(true);
    // What was half made is dropped, so nothing broken is seen again.
    let given = catch_unwind(AssertUnwindSafe(read));
    GUARDED.set(outer);
    given.ok()
}

#[cfg(test)]
mod tests {
    use super::guarded;

    #[test]
    fn a_panic_ends_what_was_guarded_and_nothing_else() {
        assert_eq!(guarded(|| 7), Some(7));
        let empty: Vec<u8> = Vec::new();
        assert_eq!(guarded(|| empty[empty.len()]), None);
        assert_eq!(guarded(|| guarded(|| empty[1]).map_or(3, u32::from)), Some(3));
    }
}
