//! Shelf picture: what collects the books of `jaconet shelf` and draws them, as spines or in a room.

use crate::assets::Darkroom;
use crate::output::{BookGroup, BookRow, TooLarge};
use crate::scene::{BookView, Grouping, Scene};
use clap::ValueEnum;

/// How the books stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Arranged {
    /// Spines side by side at true scale, and the fronts small
    Spines,
    /// Standing side by side in a room
    Row,
    /// Lying on each other
    Pile,
    /// Lying on each other, spread like a hand of cards
    Fan,
}

/// A picture in the making.
pub enum ShelfPicture {
    Spines(BookRow),
    Room { grouping: Grouping, books: usize, view: Option<String>, group: Option<Box<BookGroup>> },
}

/// Why there is no picture.
#[derive(Debug)]
pub enum NoShelfPicture {
    TooLarge(TooLarge),
    /// The first cover has no view of the name; these it has.
    NoSuchView(Vec<String>),
}

impl ShelfPicture {
    /// For so many books. `ppi` is of the spines; `view` names a view of the first cover, as which the group is seen.
    pub fn new(arranged: Arranged, books: usize, ppi: f64, view: Option<&str>) -> ShelfPicture {
        let grouping = match arranged {
            Arranged::Spines => return ShelfPicture::Spines(BookRow::new(ppi)),
            Arranged::Row => Grouping::Row,
            Arranged::Pile => Grouping::Pile,
            Arranged::Fan => Grouping::Fan,
        };
        ShelfPicture::Room { grouping, books, view: view.map(str::to_owned), group: None }
    }

    /// Adds a cover. Returns whether it can be shown: in a room only books are, no pictures for screens.
    pub fn add(&mut self, scene: &Scene, darkroom: &Darkroom) -> Result<bool, NoShelfPicture> {
        match self {
            ShelfPicture::Spines(row) => row.stand(scene, darkroom).map(|()| true).map_err(NoShelfPicture::TooLarge),
            ShelfPicture::Room { .. } if scene.views.is_none() => Ok(false),
            ShelfPicture::Room { grouping, books, view, group } => {
                if let Some(group) = group {
                    return Ok(group.add(scene, darkroom));
                }
                let view = view.as_deref().map(|name| find(scene, name)).transpose()?;
                let mut first = BookGroup::new(*grouping, *books, view.map(|view| (view, scene)));
                let added = first.add(scene, darkroom);
                *group = added.then(|| Box::new(first));
                Ok(added)
            }
        }
    }

    /// The bytes of a PNG, the books in the order given.
    pub fn picture(&self, order: &[usize], title: &str, darkroom: &Darkroom) -> Result<Vec<u8>, NoShelfPicture> {
        match self {
            ShelfPicture::Spines(row) => row.picture(order, title).map_err(NoShelfPicture::TooLarge),
            ShelfPicture::Room { group, .. } => {
                Ok(group.as_ref().map(|group| group.picture(order, title, darkroom)).unwrap_or_default())
            }
        }
    }
}

fn find<'a>(scene: &'a Scene, name: &str) -> Result<&'a BookView, NoShelfPicture> {
    let all = scene.views.as_ref().map_or(&[][..], |views| &views.all);
    let found = all.iter().find(|view| view.name == name);
    found.ok_or_else(|| NoShelfPicture::NoSuchView(all.iter().map(|view| view.name.clone()).collect()))
}
