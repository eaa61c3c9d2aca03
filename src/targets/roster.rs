//! Roster: from what was typed to the covers that are meant: a cover and its editions, the covers of a series, the titles
//! of a catalogue, all of a folder.
#![expect(clippy::disallowed_methods, reason = "`.` has a name only after the disk has been asked")]

mod apart;
mod found;
#[cfg(test)]
mod tests;

use crate::assets::nearest;
use crate::disk::OUT;
use crate::disk::{Disk, Seen};
use crate::ground::Digest;
use crate::record::{Built, Commission};
use crate::source::offer;
use crate::targets::catalogue::{catalogue, is_catalogue};
use crate::targets::target::{CATALOGUE, COVER, Refusal, Target};
use crate::targets::variants;
use apart::{once, unlike};
use found::{dependants, files, read, states_pages};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// What was typed.
#[derive(Clone, Debug, Default)]
pub struct Wish {
    pub files: Vec<PathBuf>,
    pub out: Option<PathBuf>,
    /// Editions by name; empty: all.
    pub editions: Vec<String>,
    /// Titles of catalogues by slug; empty: all.
    pub titles: Vec<String>,
    pub shard: Option<Shard>,
}

/// One of several parts of equal standing, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shard {
    pub part: u32,
    pub of: u32,
}

#[derive(Default)]
pub struct Roster {
    pub targets: Vec<Target>,
    /// Catalogues, and what is wrong with each as a whole.
    pub told: Vec<(String, Built)>,
    /// What was looked at to know the targets.
    pub seen: Seen,
    /// The editions that any of the covers has.
    editions: BTreeSet<String>,
    /// Some files are told to be unreadable, and might have more.
    is_partial: bool,
}

pub fn roster(wish: &Wish) -> Result<Roster, Refusal> {
    sought(wish).1
}

/// The roster, and what was looked at even when it cannot be had.
pub fn sought(wish: &Wish) -> (Seen, Result<Roster, Refusal>) {
    let mut roster = Roster::default();
    let filled = fill(&mut roster, wish);
    (roster.seen.clone(), filled.map(|()| roster))
}

fn fill(roster: &mut Roster, wish: &Wish) -> Result<(), Refusal> {
    let mut done = BTreeSet::new();
    for typed in &wish.files {
        for path in files(typed, &mut roster.seen)? {
            if done.insert(path.components().collect::<PathBuf>()) {
                add(roster, wish, &path)?;
            }
        }
    }
    if !roster.is_partial {
        known_editions(&roster.editions, wish)?;
        known_titles(&roster.targets, wish)?;
    }
    once(&mut roster.targets);
    pick(&mut roster.targets, wish);
    unlike(&roster.targets)?;
    if let Some(shard) = wish.shard {
        roster.targets.retain(|target| shard.holds(&target.stem));
    }
    Ok(())
}

impl Shard {
    /// Whether a cover is of this part: by its name alone, so that more titles move no others.
    pub fn holds(self, stem: &str) -> bool {
        let digest = Digest::of(stem.as_bytes());
        let number = digest.bytes().first_chunk::<8>().map_or(0, |bytes| u64::from_le_bytes(*bytes));
        number % u64::from(self.of.max(1)) + 1 == u64::from(self.part)
    }
}

/// Adds what a file stands for.
fn add(roster: &mut Roster, wish: &Wish, path: &Path) -> Result<(), Refusal> {
    if path.extension().is_some_and(|end| end.eq_ignore_ascii_case("csv") || end.eq_ignore_ascii_case("json")) {
        let help = "name the catalogue file that names the table; see `jaconet explain catalogue`";
        return Err((format!("{} is a table, not a cover", path.display()), help.to_owned()));
    }
    let base = target(path, wish)?;
    let disk = Disk::new(&base.folder);
    let tree = read(&disk, &base.commission.path);
    if tree.as_ref().is_some_and(is_catalogue) {
        titles(roster, wish, &base, &disk);
        roster.seen.0.extend(disk.seen().0);
        return Ok(());
    }
    let series = tree.filter(|tree| !states_pages(tree));
    let below = series.map_or_else(Vec::new, |_| dependants(&disk, &base.commission.path));
    if below.is_empty() {
        add_variants(roster, wish, &base, &variants(&disk, &base.commission));
    } else {
        for path in below {
            let path = if base.folder == Path::new(".") { PathBuf::from(path) } else { base.folder.join(path) };
            let base = target(&path, wish)?;
            let disk = Disk::new(&base.folder);
            add_variants(roster, wish, &base, &variants(&disk, &base.commission));
            roster.seen.0.extend(disk.seen().0);
        }
    }
    roster.seen.0.extend(disk.seen().0);
    Ok(())
}

/// Adds a cover and its editions, as far as they are wished for.
fn add_variants(roster: &mut Roster, wish: &Wish, base: &Target, variants: &[Option<String>]) {
    roster.editions.extend(variants.iter().flatten().cloned());
    if variants.is_empty() {
        roster.is_partial = true;
        roster.targets.push(base.clone());
    }
    let wanted = |edition: &String| wish.editions.is_empty() || wish.editions.contains(edition);
    for variant in variants {
        let Some(edition) = variant else {
            if wish.editions.is_empty() {
                roster.targets.push(base.clone());
            }
            continue;
        };
        if wanted(edition) {
            roster.targets.push(Target {
                name: format!("{} ({edition})", base.name),
                stem: format!("{}-{edition}", base.stem),
                commission: Commission { edition: Some(edition.clone()), ..base.commission.clone() },
                ..base.clone()
            });
        }
    }
}

/// Adds the titles of a catalogue, with the editions that the template knows.
fn titles(roster: &mut Roster, wish: &Wish, base: &Target, disk: &Disk) {
    let Ok(catalogue) = catalogue(disk, &base.commission.path) else { return };
    let template = Commission { path: catalogue.template, ..base.commission.clone() };
    let variants = variants(disk, &template);
    for listed in catalogue.titles {
        // The second of two rows of one slug has errors, and must not write over the first, nor over any other: no slug
        // holds a plus.
        let number = listed.row().map_or(0, |row| row.number);
        let stem = if listed.is_twin { format!("{}+row-{number}", listed.slug) } else { listed.slug.clone() };
        let title = Target {
            name: stem.clone(),
            stem,
            commission: Commission { listed: Some(listed), ..template.clone() },
            ..base.clone()
        };
        add_variants(roster, wish, &title, &variants);
    }
    roster.is_partial |= catalogue.told.findings.has_errors();
    roster.told.push((base.shown.clone(), catalogue.told));
}

/// An edition that no cover has is a slip.
fn known_editions(known: &BTreeSet<String>, wish: &Wish) -> Result<(), Refusal> {
    let Some(unknown) = wish.editions.iter().find(|wanted| !known.contains(*wanted)) else { return Ok(()) };
    let known: Vec<&str> = known.iter().map(String::as_str).collect();
    let help = if known.is_empty() {
        "write `edition case { … }` at the top of the cover; see `jaconet explain edition`".to_owned()
    } else {
        offer(unknown, &known)
    };
    Err((format!("no cover here has an edition `{unknown}`"), help))
}

/// A title that no catalogue has is a slip.
fn known_titles(targets: &[Target], wish: &Wish) -> Result<(), Refusal> {
    let known: Vec<&str> = targets.iter().filter_map(slug).collect();
    let Some(unknown) = wish.titles.iter().find(|wanted| !known.contains(&wanted.as_str())) else { return Ok(()) };
    let help = match nearest(unknown, known.into_iter()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "titles are named by their slug: the column `slug`, or the title in small letters with hyphens".into(),
    };
    Err((format!("no catalogue here has a title `{unknown}`"), help))
}

/// The titles that were asked for.
fn pick(targets: &mut Vec<Target>, wish: &Wish) {
    let wanted = |target: &Target| slug(target).is_some_and(|slug| wish.titles.iter().any(|wanted| wanted == slug));
    targets.retain(|target| wish.titles.is_empty() || wanted(target));
}

fn slug(target: &Target) -> Option<&str> {
    target.commission.listed.as_ref().map(|listed| listed.slug.as_str())
}

/// A cover as its file stands.
fn target(path: &Path, wish: &Wish) -> Result<Target, Refusal> {
    let name = path.file_name().and_then(|name| name.to_str());
    let Some(file) = name.map(str::to_owned) else {
        return Err((format!("{} is not a name that can be written", path.display()), "use letters".to_owned()));
    };
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    };
    let stem = stem(&file, &folder);
    let out = wish.out.clone().unwrap_or_else(|| folder.join(OUT));
    let shown = path.display().to_string();
    let commission = Commission::of(&file);
    Ok(Target { name: shown.clone(), shown, folder, commission, stem, out })
}

/// The folder's name for a `cover.kdl`, else the file's own.
fn stem(file: &str, folder: &Path) -> String {
    let own = file.strip_suffix(".kdl").unwrap_or(file).to_owned();
    if file != COVER {
        return own;
    }
    // `.` and `..` are names only after the disk has been asked.
    let real = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    real.file_name().and_then(|name| name.to_str()).map_or(own, str::to_owned)
}
