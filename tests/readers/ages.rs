//! Ages: the same bytes from processors of all ages, as qemu pretends them.

use crate::bytes::files;
use crate::kit::{room, shown};
use crate::python::python;
use std::process::Command;

/// Libraries choose their code by the processor: one of 2008 with SSE 4.2, one of 2013 with AVX2, and this one, whatever it
/// has, in turn with all of its threads and with one.
#[test]
fn processors_of_all_ages_give_the_same_bytes() {
    let folder = room().join("covers/ages");
    std::fs::create_dir_all(&folder).expect("makes a folder");
    python("sizes.py", &["make", &shown(&folder)]);
    let text = "book { title \"Of all ages\"; pages 120 }\nformat paperback { trim 90 120 }\npanel front {\n\
                text name words=\"{title}\" { size 18; left safe; width 60; top 12 }\n\
                image a file=\"photo.png\" { left 10; width 30; top 50 }\n\
                image b file=\"inks.tif\" { left 45; width 30; top 50 }\n}\n";
    std::fs::write(folder.join("cover.kdl"), text).expect("writes the cover");
    let built = |name: &str, command: &mut Command, more: &[&str]| {
        let out = folder.join("out").join(name);
        let run =
            command.arg("build").arg(&folder).args(more).args(["--only", "press,flat", "--out"]).arg(&out).output();
        let run = run.unwrap_or_else(|fault| panic!("`qemu-x86_64` does not start ({fault}); `tests/run` installs it"));
        assert_eq!(run.status.code(), Some(0), "{name}: {}", String::from_utf8_lossy(&run.stderr));
        files(&out)
    };
    let here = built("here", &mut Command::new(env!("CARGO_BIN_EXE_jaconet")), &[]);
    let alone = built("alone", &mut Command::new(env!("CARGO_BIN_EXE_jaconet")), &["--jobs", "1"]);
    assert!(here.len() == 2 && here == alone);
    for age in ["Nehalem", "Haswell"] {
        let there = built(age, Command::new("qemu-x86_64").args(["-cpu", age, env!("CARGO_BIN_EXE_jaconet")]), &[]);
        assert!(here == there, "{age}");
    }
}
