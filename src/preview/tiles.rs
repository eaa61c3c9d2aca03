//! Tiles: squares of a sheet, painted at the scale asked for: all plates, some of them, or where too much ink lies.

use crate::ground::Digest;
use crate::output::{png_file, screen_file};
use crate::preview::answer::{Declined, PageAnswer};
use crate::preview::over;
use crate::preview::scales::{PROGRAM, SIDE, STEPS, ppi};
use crate::preview::shown::ShownCover;
use crate::preview::studio::Studio;
use crate::raster::{SheetPart, Window};
use serde::Deserialize;
use serde_json::json;

/// At most so many names are asked for at once.
const NAMES: usize = 4096;

#[derive(Deserialize)]
pub struct TileQuery {
    z: usize,
    x: usize,
    y: usize,
    #[serde(default)]
    columns: usize,
    #[serde(default)]
    rows: usize,
    #[serde(default)]
    plates: String,
}

/// What of the sheet is painted.
#[derive(Debug, PartialEq, Eq)]
enum PlateChoice {
    All,
    /// By number, in their order.
    Some(Vec<usize>),
    /// The places over the ink limit.
    Over,
}

impl PlateChoice {
    fn read(text: &str) -> Result<PlateChoice, Declined> {
        match text {
            "" | "all" => Ok(PlateChoice::All),
            "over" => Ok(PlateChoice::Over),
            list => {
                let numbers = list.split(',').map(str::parse).collect::<Result<Vec<usize>, _>>();
                let mut numbers =
                    numbers.map_err(|_| Declined::missing("`plates` is `all`, `over` or numbers: 0,3"))?;
                numbers.sort_unstable();
                numbers.dedup();
                Ok(PlateChoice::Some(numbers))
            }
        }
    }
}

/// The names of tiles, row by row; `null` outside the sheet.
pub fn names(studio: &Studio, shown: &ShownCover, build: u64, query: &TileQuery) -> Result<PageAnswer, Declined> {
    let choice = PlateChoice::read(&query.plates)?;
    let many = query.columns > NAMES || query.rows > NAMES || query.columns * query.rows > NAMES;
    if many || query.z >= STEPS {
        return Err(Declined::missing("there are not so many tiles"));
    }
    let place = |row| move |column| (query.x.saturating_add(column), query.y.saturating_add(row));
    let tiles = (0..query.rows).flat_map(|row| (0..query.columns).map(place(row)));
    let names = tiles.map(|(x, y)| {
        let name = SheetSquare { z: query.z, x, y }.name(studio, shown, &choice);
        name.map(|name| name.to_string())
    });
    Ok(PageAnswer::Json(json!({ "build": build, "names": names.collect::<Vec<Option<String>>>() })))
}

/// A tile that still bears this name.
pub fn tile(studio: &Studio, shown: &ShownCover, name: &str, query: &TileQuery) -> Result<PageAnswer, Declined> {
    let choice = PlateChoice::read(&query.plates)?;
    let tile = SheetSquare { z: query.z, x: query.x, y: query.y };
    let outside = || Declined::missing("no tile of the sheet lies there");
    let key = tile.name(studio, shown, &choice).ok_or_else(outside)?;
    if key.to_string() != name {
        return Err(Declined::outdated());
    }
    let png = studio.pictures.get_or(key, || tile.paint(studio, shown, &choice).ok_or_else(outside))?;
    Ok(PageAnswer::Png(png))
}

struct SheetSquare {
    z: usize,
    x: usize,
    y: usize,
}

impl SheetSquare {
    fn part<'a>(&self, studio: &'a Studio, shown: &'a ShownCover) -> Option<SheetPart<'a>> {
        let (x, y) = (self.x.checked_mul(SIDE)?, self.y.checked_mul(SIDE)?);
        let window = Window { x, y, width: SIDE, height: SIDE };
        SheetPart::new(shown.scene(), shown.grid(self.z)?, window, &studio.workshop.darkroom)
    }

    /// Names all that shows in it.
    fn name(&self, studio: &Studio, shown: &ShownCover, choice: &PlateChoice) -> Option<Digest> {
        let part = self.part(studio, shown)?;
        if *choice == PlateChoice::Over {
            let place = format!("{} {:?}", self.z, part.window);
            return Some(Digest::of_all(&[b"over", place.as_bytes(), &over::bits(studio, shown, &part, ppi(self.z))]));
        }
        Some(Digest::of_all(&[PROGRAM.as_bytes(), part.name().bytes(), format!("{choice:?}").as_bytes()]))
    }

    fn paint(&self, studio: &Studio, shown: &ShownCover, choice: &PlateChoice) -> Option<Vec<u8>> {
        let part = self.part(studio, shown)?;
        let size = (part.window.width, part.window.height);
        let rgb = match choice {
            PlateChoice::Over => {
                return Some(screen_file(&over::hatched(studio, shown, &part, ppi(self.z)), 4, size, ""));
            }
            PlateChoice::All => part.rgb(None),
            PlateChoice::Some(numbers) => match numbers[..] {
                [one] => part.planes().get(one)?.iter().flat_map(|ink| [255 - ink; 3]).collect(),
                _ => part.rgb(Some(numbers)),
            },
        };
        Some(png_file(&rgb, size, ppi(self.z), ""))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plates_are_named_by_their_numbers() {
        assert!(
            matches!(PlateChoice::read("all"), Ok(PlateChoice::All))
                && matches!(PlateChoice::read("over"), Ok(PlateChoice::Over))
        );
        let numbers = PlateChoice::read("3,0,3").expect("numbers");
        assert_eq!(numbers, PlateChoice::Some(vec![0, 3]));
        for slip in ["cyan", "1,", "-1", "1;2"] {
            assert!(PlateChoice::read(slip).is_err(), "{slip}");
        }
    }
}
