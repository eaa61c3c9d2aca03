//! Late pixels: those of a picture that are made when they are asked for, all at once or some rows at a time.

use crate::assets::Pixels;
use std::ops::Range;
use std::sync::OnceLock;

pub struct LatePixels {
    known: OnceLock<Pixels>,
    make: LateMaker,
}

enum LateMaker {
    AtOnce(Box<dyn Fn() -> Pixels + Send + Sync>),
    /// Without alpha.
    ByRows(Box<dyn Fn(Range<usize>) -> Pixels + Send + Sync>),
}

impl LatePixels {
    pub fn at_once(make: impl Fn() -> Pixels + Send + Sync + 'static) -> LatePixels {
        LatePixels { known: OnceLock::new(), make: LateMaker::AtOnce(Box::new(make)) }
    }

    /// `make` leaves out alpha, which is known already.
    pub fn by_rows(make: impl Fn(Range<usize>) -> Pixels + Send + Sync + 'static) -> LatePixels {
        LatePixels { known: OnceLock::new(), make: LateMaker::ByRows(Box::new(make)) }
    }

    /// All of them, kept from now on; `height` and `alpha` are the picture's.
    pub fn all(&self, height: u32, alpha: Option<&[u8]>) -> &Pixels {
        self.known.get().unwrap_or_else(|| {
            // Not within the cell: whoever makes them may take up other work meanwhile, which may ask for the same pixels.
            let made = match &self.make {
                LateMaker::AtOnce(make) => make(),
                LateMaker::ByRows(make) => Pixels { alpha: alpha.map(<[u8]>::to_vec), ..make(0..height as usize) },
            };
            self.known.get_or_init(|| made)
        })
    }

    /// Some rows, without alpha and not kept; `None` where all are there, or none can be had without the others.
    pub fn rows(&self, rows: Range<usize>) -> Option<Pixels> {
        match &self.make {
            LateMaker::ByRows(make) if self.known.get().is_none() => Some(make(rows)),
            _ => None,
        }
    }

    pub fn are_made_by_rows(&self) -> bool {
        matches!(self.make, LateMaker::ByRows(_))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rayon::prelude::*;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::sync::mpsc::channel;
    use std::time::Duration;

    /// Pixels are made by two threads at once, and a thread that waits for the other takes up what is there to do.
    #[test]
    fn pixels_that_are_made_late_are_asked_for_by_many_at_once_and_nobody_waits_for_itself() {
        let slowly = || {
            let slow = || std::thread::sleep(Duration::from_micros(300));
            rayon::join(slow, slow);
            Pixels::opaque(vec![9])
        };
        let (done, told) = channel();
        std::thread::spawn(move || {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(4).build().expect("a pool");
            for turn in 0..200 {
                let by_rows = turn % 2 == 0;
                let late = if by_rows { LatePixels::by_rows(move |_| slowly()) } else { LatePixels::at_once(slowly) };
                let nine = |_| late.all(1, Some(&[7])).samples[0] == 9;
                assert!(pool.install(|| (0..16).into_par_iter().all(nine)), "everybody sees the same pixels");
                assert_eq!(late.all(1, Some(&[7])).alpha.is_some(), by_rows);
            }
            done.send(()).expect("the test waits");
        });
        told.recv_timeout(Duration::from_mins(1)).expect("it comes to an end");
    }

    #[test]
    fn rows_are_not_made_again_where_all_are_known() {
        let made = std::sync::Arc::new(AtomicUsize::new(0));
        let count = made.clone();
        let late = LatePixels::by_rows(move |rows| {
            count.fetch_add(1, Ordering::Relaxed);
            Pixels::opaque(vec![3; rows.len()])
        });
        assert_eq!(late.rows(1..3).map(|rows| rows.samples.len()), Some(2));
        assert_eq!(late.all(5, None).samples.len(), 5);
        assert!(late.rows(1..3).is_none() && late.all(5, None).samples.len() == 5);
        assert_eq!(made.load(Ordering::Relaxed), 2);
    }
}
