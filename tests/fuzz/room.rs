//! Room: a case run by the binary, watched from outside.

use crate::case::{Case, all};
use crate::chance::Chance;
use crate::files::below;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// For one cover: seconds of a processor, and kilobytes. The manual names two seconds and 500 MB; two processors may be
/// at work. Without optimisation all takes longer.
const SECONDS: f64 = if cfg!(debug_assertions) { 60.0 } else { 4.0 };
/// Views are made on purpose: one of the usual size takes some seconds, and a lot has three at the most.
const VIEWS: f64 = 6.0;
const KILOBYTES: u64 = 500_000;
/// A process that waits for something takes no time and must end, too.
const HANGS: Duration = Duration::from_mins(4);
const STALE: &[u8] = b"%PDF-1.6 of another day";
/// Of the system: ticks in a second (`sysconf(_SC_CLK_TCK)` on Linux).
const TICKS: f64 = 100.0;

struct Ended {
    code: Option<i32>,
    stated: String,
    seconds: f64,
    kilobytes: u64,
    hung: bool,
}

/// Runs a case; `read` is asked for each press file whether another reader looks at it.
pub fn holds(case: &Case, read: &dyn Fn() -> bool) -> Result<(), String> {
    let home = tempfile::tempdir().expect("a temporary folder");
    case.lay(home.path());
    for (at, run) in case.typed.runs.iter().enumerate() {
        for (path, _) in case.files.iter().filter(|(path, _)| path.ends_with("cover.kdl")) {
            let folder = home.path().join(path).parent().map(Path::to_owned).unwrap_or_default();
            let stem = folder.file_name().unwrap_or_default().to_string_lossy().into_owned();
            if std::fs::create_dir_all(folder.join("out")).is_ok() {
                let _ = std::fs::write(folder.join(format!("out/{stem}-press.pdf")), STALE);
            }
        }
        let views = case.files.iter().any(|(_, bytes)| bytes.windows(6).any(|word| word == b"\nview "));
        let seconds = if views { SECONDS * VIEWS } else { SECONDS };
        let ended = run_once(home.path(), run, seconds);
        judge(&ended, seconds).map_err(|fault| format!("`{}`: {fault}", run.join(" ")))?;
        let built = run.first().is_some_and(|word| word == "build");
        for press in below(home.path(), &["."], &["pdf"]).into_iter().filter(|_| built) {
            let bytes = std::fs::read(&press).unwrap_or_default();
            let whole = !run.iter().any(|word| word.starts_with("--"));
            if bytes == STALE {
                if whole && matches!(ended.code, Some(0 | 1)) && !only_editions(&press) {
                    return Err(format!("{} is of another day (exit {:?})", press.display(), ended.code));
                }
                continue;
            }
            if read() {
                sound(&press)?;
            }
        }
        if let (0, Some(seed)) = (at, case.typed.spoiled) {
            spoil(&home.path().join("store"), seed);
        }
    }
    Ok(())
}

/// Whether a cover file has only editions, each with files of its own: then the press file here is nobody's.
fn only_editions(press: &Path) -> bool {
    let stem = press.file_name().unwrap_or_default().to_string_lossy().replace("-press.pdf", "");
    let folder = press.parent().unwrap_or(Path::new("."));
    let report = |name: &str| name.starts_with(&stem) && name.ends_with("-report.json");
    let names = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let names: Vec<String> = names.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    !folder.join(format!("{stem}-report.json")).exists() && names.iter().any(|name| report(name))
}

fn judge(ended: &Ended, seconds: f64) -> Result<(), String> {
    let stated = &ended.stated[..ended.stated.floor_char_boundary(2000)];
    if ended.hung {
        return Err(format!("does not end\n{stated}"));
    }
    let Some(code) = ended.code else { return Err(format!("ended by a signal\n{stated}")) };
    if !(0..=2).contains(&code) || stated.contains("panicked") || stated.contains("fault of the program") {
        return Err(format!("exit {code}\n{stated}"));
    }
    if code != 0 && stated.trim().is_empty() {
        return Err(format!("exit {code}, and nothing said"));
    }
    if ended.seconds > seconds || ended.kilobytes > KILOBYTES {
        return Err(format!("took {:.1} s and {} MB\n{stated}", ended.seconds, ended.kilobytes / 1000));
    }
    Ok(())
}

fn run_once(home: &Path, words: &[String], limit: f64) -> Ended {
    let error = home.join("said");
    let file = std::fs::File::create(&error).expect("a file");
    let also = file.try_clone().expect("the same file");
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(home).args(words).env("NO_COLOR", "1").env("JACONET_STORE", "").stdin(Stdio::null());
    // Backtraces would count as time of the program.
    command.env("RUST_BACKTRACE", "0");
    let mut child = command.stdout(file).stderr(also).spawn().expect("the binary starts");
    let (begun, mut seconds, mut kilobytes, mut hung) = (Instant::now(), 0.0_f64, 0_u64, false);
    let status = loop {
        if let Some(status) = child.try_wait().expect("the binary can be asked") {
            break status;
        }
        let (time, most) = used(&child);
        (seconds, kilobytes) = (seconds.max(time), kilobytes.max(most));
        if begun.elapsed() > HANGS || seconds > 3.0 * limit || kilobytes > 4 * KILOBYTES {
            hung |= begun.elapsed() > HANGS;
            child.kill().expect("the binary can be ended");
        }
        std::thread::sleep(Duration::from_millis(2));
    };
    // What did not end by itself was ended for its time or its memory.
    let code = status.code().or((seconds > limit || kilobytes > KILOBYTES).then_some(0));
    let stated = String::from_utf8_lossy(&std::fs::read(&error).unwrap_or_default()).into_owned();
    Ended { code, stated, seconds, kilobytes, hung }
}

/// Seconds of a processor, and the most memory so far, as Linux tells them.
fn used(child: &Child) -> (f64, u64) {
    let read = |name: &str| std::fs::read_to_string(format!("/proc/{}/{name}", child.id())).unwrap_or_default();
    let stat = read("stat");
    let fields: Vec<&str> = stat.rsplit(')').next().unwrap_or_default().split_whitespace().collect();
    let ticks = |at: usize| fields.get(at).and_then(|field| field.parse::<f64>().ok()).unwrap_or(0.0);
    let status = read("status");
    let most = status.lines().find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix(" kB")?.parse().ok());
    // proc(5): the fourteenth and fifteenth field, counted after the name in brackets.
    ((ticks(11) + ticks(12)) / TICKS, most.unwrap_or(0))
}

fn sound(press: &Path) -> Result<(), String> {
    let output = Command::new("qpdf").arg("--check").arg(press).output();
    let output = output.map_err(|_| "qpdf is missing; tests/run installs it".to_owned())?;
    if output.status.success() {
        return Ok(());
    }
    Err(format!("qpdf: {}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr)))
}

/// What may befall a store on a disk that others use, too.
fn spoil(store: &Path, seed: u64) {
    let mut chance = Chance::new(seed);
    for path in all(store) {
        let Ok(mut bytes) = std::fs::read(&path) else { continue };
        match chance.below(8) {
            0 => crate::bytes::spoil(&mut bytes, &mut chance),
            1 => bytes.truncate(chance.below(bytes.len() + 1)),
            2 => {
                let file = std::fs::File::options().write(true).open(&path).expect("opens");
                file.set_len(1 << (20 + chance.below(21))).expect("grows");
                continue;
            }
            3 => {
                std::fs::remove_file(&path).expect("is there");
                let _ = Command::new("mkfifo").arg(&path).status();
                continue;
            }
            4 => {
                std::fs::remove_file(&path).expect("is there");
                std::fs::create_dir_all(path.join("full")).expect("a folder");
                continue;
            }
            5 => bytes.extend_from_within(..),
            _ => continue,
        }
        std::fs::write(&path, bytes).expect("writes");
    }
}
