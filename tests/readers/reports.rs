//! Reports: the JSON of `check` keeps the schema in `docs/`, and its SARIF what the standard asks.

use crate::kit::shown;
use crate::python::python;
use std::path::Path;
use std::process::Command;

const COVER: &str = "book { title \"Salt and Lanterns\"; author \"Mirela Anand\"; pages 320 }
format paperback { trim 129 198; spine 20 }
limit small-type warning=7
panel front {
    text title words=\"{title}\" { size 6.5; left safe; width 80; top 30 }
    text author words=\"{author}\" { size 20; left trim 1; width 80; top 60 }
}
";

#[test]
fn a_check_keeps_its_schema() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let write = |path: &str, text: &str| std::fs::write(home.path().join(path), text).expect("is written");
    let catalogue = "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n";
    write("cover.kdl", COVER);
    write("broken.kdl", "book {\n  pages 10pt\n}\n");
    write("catalogue.kdl", catalogue);
    write("template.kdl", &COVER.replace("title \"Salt and Lanterns\"; ", "").replace("pages 320 ", ""));
    // The second title has a cell that is wrong, and both share what is wrong in the template.
    write("titles.csv", "title,pages\nSalt,320\nLanterns,many\n");
    for format in ["json", "sarif"] {
        let words = ["check", "cover.kdl", "broken.kdl", "catalogue.kdl", "--report", format, "--report-file", format];
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        let run = command.current_dir(home.path()).args(words).output().expect("the binary runs");
        assert_eq!(run.status.code(), Some(1), "{}", String::from_utf8_lossy(&run.stderr));
    }
    let schema = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/check-report.schema.json");
    let files = [schema, home.path().join("json"), home.path().join("sarif")].map(|path| shown(&path));
    let stated = python("reports.py", &files.each_ref().map(String::as_str));
    assert!(!stated.contains("fault:"), "{stated}");
    assert!(stated.contains("never met: []") && stated.contains("refuses 1"), "{stated}");
    let counts = stated.lines().find_map(|line| line.strip_prefix("findings ")).expect("they are counted");
    let counts: Vec<usize> = counts.split(' ').filter_map(|count| count.parse().ok()).collect();
    assert!(counts[0] > 5 && counts[0] == counts[1], "{stated}");
}
