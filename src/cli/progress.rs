//! Progress: a line on the terminal for work that takes longer than a second. The one door to the progress bar.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal as _;
use std::sync::mpsc::{Sender, channel};
use std::time::Duration;

const PATIENCE: Duration = Duration::from_secs(1);
const TICK: Duration = Duration::from_millis(120);

pub struct Progress {
    bar: ProgressBar,
    /// Dropped, it tells the waiting thread that the work is done.
    _end: Sender<()>,
}

impl Progress {
    /// Counts up to `covers`.
    pub fn start(covers: usize) -> Progress {
        let bar = ProgressBar::with_draw_target(Some(covers as u64), ProgressDrawTarget::hidden());
        let style = ProgressStyle::with_template("{spinner} {pos} of {len} built, {elapsed}");
        bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_spinner()));
        let (end, ended) = channel::<()>();
        if std::io::stderr().is_terminal() {
            let bar = bar.clone();
            std::thread::spawn(move || {
                if ended.recv_timeout(PATIENCE) == Err(std::sync::mpsc::RecvTimeoutError::Timeout) && !bar.is_finished()
                {
                    bar.set_draw_target(ProgressDrawTarget::stderr());
                    bar.enable_steady_tick(TICK);
                }
            });
        }
        Progress { bar, _end: end }
    }

    /// Says something without leaving half a line of the bar behind.
    pub fn aside(&self, say: impl FnOnce()) {
        self.bar.suspend(say);
    }

    pub fn step(&self) {
        self.bar.inc(1);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
