//! Files: how many bytes and lines each may have, asked before it is read.

use crate::binary::{ERRORS, HEAD, STOPPED, TestHome, check, panel, run, says};

#[test]
fn a_file_has_so_many_bytes_and_lines() {
    check(panel(&"a\n".repeat(90_000)), ERRORS, &["more than 40000 nodes and lines", "cover.kdl:40000:2"]);
    // The largest file that is read, and one letter more.
    let long = |more: usize| {
        let text = panel("band a { swatch black; left 5; width 9; top 5; height 9 }\n// ");
        text.replace("// ", &format!("// {}", "x".repeat((256 << 10) - text.len() + more)))
    };
    check(long(0), 0, &[]);
    check(long(1), ERRORS, &["the file is 257 KB large; the limit is 256 KB"]);
}

/// The length of a file is asked before it is opened: the whole of a drawing of 345 MB was read, 1.1 seconds and 369 MB, only to
/// be refused. A file of nothing but holes is longer than any memory.
#[cfg(target_os = "linux")]
#[test]
fn a_large_file_is_refused_unread() {
    let hollow = |name: &str, megabytes: u64| {
        let home =
            TestHome::new().with("cover.kdl", panel(&format!("image a file=\"{name}\" {{ left 9; top 9; width 9 }}")));
        let home = home.with(name, []);
        let file = std::fs::File::create(home.path(name)).expect("a file");
        file.set_len(megabytes << 20).expect("a file may have holes");
        home
    };
    let most = |home: &TestHome| {
        let limited = "ulimit -v $((600 * 1024)); exec \"$0\" check cover.kdl";
        let mut command = std::process::Command::new("sh");
        command.args(["-c", limited, env!("CARGO_BIN_EXE_jaconet")]).current_dir(home.path("")).env("NO_COLOR", "1");
        let done = command.output().expect("the binary starts");
        (done.status.code(), String::from_utf8_lossy(&done.stderr).replace("\n  │ ", " "))
    };
    for name in ["a.svg", "a.SVG"] {
        let (code, said) = most(&hollow(name, 800));
        let stated = format!("{name:?}: it is 800 MB large; the limit is 16 MB");
        assert!(said.contains(&stated) && said.contains("cover.kdl:4:") && said.contains("simplify it"), "{said}");
        assert_eq!(code, Some(ERRORS), "{said}");
    }
    let font = hollow("fonts/a.otf", 800).with("cover.kdl", HEAD);
    let (code, said) = most(&font);
    assert!(said.contains("the font `fonts/a.otf` is left out: it is 800 MB large; the limit is 128 MB"), "{said}");
    assert_eq!(code, Some(0), "{said}");
    let press = format!("{HEAD}press profile=\"a.icc\"\n");
    let (code, said) = most(&hollow("a.icc", 800).with("cover.kdl", &press));
    assert!(
        said.contains("\"a.icc\": it is 800 MB large; the limit is 16 MB") && said.contains("cover.kdl:3:"),
        "{said}"
    );
    assert_eq!(code, Some(ERRORS), "{said}");
    // By another name it is read, and no further looked at.
    says(
        &hollow("a.bin", 17).with("cover.kdl", press.replace("icc", "bin")),
        ERRORS,
        &["it is 17 MB large; the limit is 16 MB"],
    );
    let (code, said) = run(&hollow("long.kdl", 900), &["check", "long.kdl"]);
    assert!(said.contains("long.kdl: it is 900 MB large; the limit is 256 KB"), "{said}");
    assert_eq!(code, STOPPED, "{said}");
}
