//! Machine: what a run costs, and what the machine itself gains by a second thread.

use flate2::{Compress, Compression, FlushCompress};
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

pub struct Cost {
    pub seconds: f64,
    /// Seconds of all processors together, of the program and of the system for it.
    pub busy: f64,
    /// The most memory that was resident, in MB. Looked at so often that no more than a moment may be missed.
    pub peak: u64,
    /// The last line that the program said.
    pub stated: String,
}

/// Clock ticks of `/proc/PID/stat`, a second: 100 on Linux, whatever the machine (proc(5), from memory).
const TICKS: f64 = 100.0;
const GLANCE: Duration = Duration::from_millis(5);

/// Runs to the end.
pub fn cost(command: &mut Command) -> Cost {
    let child = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("jaconet starts");
    let about = format!("/proc/{}", child.id());
    let watched = thread::spawn(move || {
        let (mut busy, mut peak) = (0.0_f64, 0);
        // A process that has ended says no more of its memory.
        while let Some(now) = std::fs::read_to_string(format!("{about}/status")).ok().as_deref().and_then(resident) {
            peak = peak.max(now);
            busy = busy.max(std::fs::read_to_string(format!("{about}/stat")).map_or(0.0, |line| ticks(&line) / TICKS));
            thread::sleep(GLANCE);
        }
        (busy, peak)
    });
    let output = child.wait_with_output().expect("jaconet ends");
    let reported = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "every cover builds: {reported}");
    let (busy, peak) = watched.join().expect("looking does not fail");
    let stated = reported.lines().rfind(|line| !line.is_empty()).unwrap_or_default().to_owned();
    Cost { seconds: 0.0, busy, peak: peak / 1000, stated }
}

/// The peak so far, in kB.
fn resident(status: &str) -> Option<u64> {
    status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?.split_whitespace().next()?.parse().ok()
}

/// Fields 14 and 15 of the line, counted from behind the name, which may hold anything.
fn ticks(line: &str) -> f64 {
    let fields = line.rsplit_once(')').map_or("", |(_, rest)| rest).split_whitespace();
    fields.skip(11).take(2).filter_map(|field| field.parse::<f64>().ok()).sum()
}

/// Work that leans on nothing but processors, done by as many threads as there are and by one: how much sooner.
pub fn gain() -> f64 {
    const PIECES: usize = 64;
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let on = |threads: usize| {
        let begin = Instant::now();
        thread::scope(|scope| {
            for _ in 0..threads {
                scope.spawn(move || (0..PIECES / threads).for_each(|piece| squeeze(piece as u32)));
            }
        });
        begin.elapsed().as_secs_f64()
    };
    let mut gains: Vec<f64> = (0..5).map(|_| on(1) / on(threads)).collect();
    gains.sort_by(f64::total_cmp);
    gains[gains.len() / 2]
}

fn squeeze(seed: u32) {
    let bytes: Vec<u8> = (seed..seed + (1 << 20)).map(|at| (at.wrapping_mul(at) >> 9) as u8).collect();
    let mut out = Vec::with_capacity(2 << 20);
    let done = Compress::new(Compression::new(6), false).compress_vec(&bytes, &mut out, FlushCompress::Finish);
    std::hint::black_box((done.expect("room enough"), out));
}
