//! The bundled faces: open fonts that lie in `fonts-open/`, each with its licence beside it.

macro_rules! face {
    ($path:literal) => {
        ($path, include_bytes!(concat!(env!("CARGO_MANIFEST_DIR"), "/fonts-open/", $path)))
    };
}

/// Every file by its path in `fonts-open/`.
pub const BUNDLED: &[(&str, &[u8])] = &[
    face!("Alegreya/Alegreya-Black.ttf"),
    face!("Alegreya/Alegreya-Bold.ttf"),
    face!("Alegreya/Alegreya-BoldItalic.ttf"),
    face!("Alegreya/Alegreya-Italic.ttf"),
    face!("Alegreya/Alegreya-Regular.ttf"),
    face!("Amiri/Amiri-Bold.ttf"),
    face!("Amiri/Amiri-Italic.ttf"),
    face!("Amiri/Amiri-Regular.ttf"),
    face!("BarlowCondensed/BarlowCondensed-Bold.ttf"),
    face!("BarlowCondensed/BarlowCondensed-ExtraBold.ttf"),
    face!("BarlowCondensed/BarlowCondensed-Italic.ttf"),
    face!("BarlowCondensed/BarlowCondensed-Light.ttf"),
    face!("BarlowCondensed/BarlowCondensed-Medium.ttf"),
    face!("BarlowCondensed/BarlowCondensed-Regular.ttf"),
    face!("BarlowCondensed/BarlowCondensed-SemiBold.ttf"),
    face!("BodoniModa/BodoniModa-Black.ttf"),
    face!("BodoniModa/BodoniModa-Bold.ttf"),
    face!("BodoniModa/BodoniModa-Italic.ttf"),
    face!("BodoniModa/BodoniModa-Regular.ttf"),
    face!("Caveat/Caveat-Bold.ttf"),
    face!("Caveat/Caveat-Regular.ttf"),
    face!("DancingScript/DancingScript-Bold.ttf"),
    face!("DancingScript/DancingScript-Regular.ttf"),
    face!("EBGaramond/EBGaramond-Bold.ttf"),
    face!("EBGaramond/EBGaramond-BoldItalic.ttf"),
    face!("EBGaramond/EBGaramond-Italic.ttf"),
    face!("EBGaramond/EBGaramond-Regular.ttf"),
    face!("EBGaramond/EBGaramond-SemiBold.ttf"),
    face!("FrankRuhlLibre/FrankRuhlLibre-Black.ttf"),
    face!("FrankRuhlLibre/FrankRuhlLibre-Bold.ttf"),
    face!("FrankRuhlLibre/FrankRuhlLibre-Medium.ttf"),
    face!("FrankRuhlLibre/FrankRuhlLibre-Regular.ttf"),
    face!("Inter/InterVariable.ttf"),
    face!("LeagueGothic/LeagueGothic-Regular.ttf"),
    face!("LibreFranklin/LibreFranklin-Black.ttf"),
    face!("LibreFranklin/LibreFranklin-Bold.ttf"),
    face!("LibreFranklin/LibreFranklin-BoldItalic.ttf"),
    face!("LibreFranklin/LibreFranklin-Italic.ttf"),
    face!("LibreFranklin/LibreFranklin-Light.ttf"),
    face!("LibreFranklin/LibreFranklin-Medium.ttf"),
    face!("LibreFranklin/LibreFranklin-Regular.ttf"),
    face!("LibreFranklin/LibreFranklin-SemiBold.ttf"),
    face!("PlayfairDisplay/PlayfairDisplay-Black.ttf"),
    face!("PlayfairDisplay/PlayfairDisplay-Bold.ttf"),
    face!("PlayfairDisplay/PlayfairDisplay-BoldItalic.ttf"),
    face!("PlayfairDisplay/PlayfairDisplay-Italic.ttf"),
    face!("PlayfairDisplay/PlayfairDisplay-Regular.ttf"),
    face!("ShipporiMincho/ShipporiMincho-Regular-JIS0208.ttf"),
    face!("ZillaSlab/ZillaSlab-Bold.ttf"),
    face!("ZillaSlab/ZillaSlab-Italic.ttf"),
    face!("ZillaSlab/ZillaSlab-Regular.ttf"),
];

#[cfg(test)]
mod tests {
    #![expect(clippy::disallowed_methods, reason = "the bundled list is compared with the folder itself")]

    use super::*;
    use std::path::Path;

    #[test]
    fn the_list_is_the_folder_and_its_manifest() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-open");
        let mut files = Vec::new();
        for family in std::fs::read_dir(&folder).expect("the folder is there").flatten() {
            for file in std::fs::read_dir(family.path()).into_iter().flatten().flatten() {
                let path = format!("{}/{}", family.file_name().display(), file.file_name().display());
                if Path::new(&path).extension().is_some_and(|end| end == "ttf" || end == "otf") {
                    files.push(path);
                }
            }
            assert!(family.path().is_file() || family.path().join("OFL.txt").is_file(), "{family:?} has its licence");
        }
        files.sort();
        assert_eq!(BUNDLED.iter().map(|(path, _)| path.to_string()).collect::<Vec<_>>(), files);
        let manifest = std::fs::read_to_string(folder.join("MANIFEST.tsv")).expect("the manifest is there");
        let rows: Vec<Vec<&str>> = manifest.lines().skip(1).map(|row| row.split('\t').collect()).collect();
        assert_eq!(rows.len(), BUNDLED.len());
        for ((path, bytes), row) in BUNDLED.iter().zip(rows) {
            assert_eq!((*path, bytes.len().to_string().as_str()), (row[0], row[3]));
        }
    }
}
