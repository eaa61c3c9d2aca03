//! Hidden: what pixels hold of which nothing shows.

/// For each pixel of a row the nearest of which something shows: itself, or where it is hidden one beside it. Readers of a press
/// file that smooth a picture before they cut it out would let another colour shine along its edge.
pub fn nearest_shown(shows: impl Iterator<Item = bool>) -> Vec<usize> {
    let mut last = None;
    let before: Vec<Option<usize>> = shows
        .enumerate()
        .map(|(at, shows)| {
            if shows {
                last = Some(at);
            }
            last
        })
        .collect();
    let mut next = None;
    let mut nearest: Vec<usize> = (0..before.len()).collect();
    for at in (0..before.len()).rev() {
        if before[at] == Some(at) {
            next = Some(at);
        }
        let near = [before[at], next].into_iter().flatten().min_by_key(|near| near.abs_diff(at));
        nearest[at] = near.unwrap_or(at);
    }
    nearest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hidden_pixels_find_the_nearest_that_shows() {
        let near = |row: &str| nearest_shown(row.chars().map(|pixel| pixel == 'x'));
        assert_eq!(near("..x..x."), [2, 2, 2, 2, 5, 5, 5]);
        assert_eq!(near("x.x"), [0, 0, 2]);
        assert_eq!((near("..."), near("")), (vec![0, 1, 2], vec![]));
    }
}
