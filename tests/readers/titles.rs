//! Titles: the series and the catalogue of the examples, as far as other readers look at them.

use crate::kit::{Built, room};
use std::path::Path;
use std::process::Command;
use std::sync::OnceLock;

/// Of the series every cover and edition, of the catalogue the titles that are least alike: press files alone, built once.
pub fn series_and_titles() -> &'static [Built] {
    static BUILT: OnceLock<Vec<Built>> = OnceLock::new();
    BUILT.get_or_init(|| {
        let home = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
        let titles =
            ["maftehot", "aqwas-al-daw", "tsukiniwa-no-mizuban", "the-people-who-wound-the-clocks", "zolte-szuwary"];
        let quarterbound = [&["--title"], &titles[..]].concat();
        let mut all = Vec::new();
        for (name, words) in [("harbour-quartet", &[][..]), ("quarterbound", &quarterbound[..])] {
            let out = room().join("out").join(name);
            let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
            command.arg("build").arg(home.join(name)).arg("--out").arg(&out).args(["--only", "press"]).args(words);
            let run = command.output().expect("the binary runs");
            assert_eq!(run.status.code(), Some(0), "{name}: {}", String::from_utf8_lossy(&run.stderr));
            let files = std::fs::read_dir(&out).expect("files were written").flatten();
            let names = files.map(|file| file.file_name().to_string_lossy().into_owned());
            let mut stems: Vec<String> =
                names.filter_map(|name| Some(name.strip_suffix("-press.pdf")?.to_owned())).collect();
            stems.sort();
            all.extend(stems.into_iter().map(|stem| Built { source: home.join(name), stem, out: out.clone() }));
        }
        assert_eq!(all.len(), 6 + titles.len(), "covers, editions and titles");
        all
    })
}
