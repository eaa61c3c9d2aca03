//! Hunks: the stretches in which two rows of things differ, found by the longest row they share.

/// Beyond so many comparisons two rows count as different from their first difference to their last.
const MOST: usize = 4_000_000;
/// Words reported on either side of a change.
const AROUND: usize = 2;
/// Words reported of a long stretch; the middle of more is left out.
const LONG: usize = 14;

/// A stretch of the old row and the stretch of the new row in its stead; either may be empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hunk {
    pub old: std::ops::Range<usize>,
    pub new: std::ops::Range<usize>,
}

/// Pairs of places that hold the same thing, rising in both rows, as many as can be.
///
/// Where two ways are as good, the choice does not hang on which row is the old one.
fn kept<T: Ord>(old: &[T], new: &[T]) -> Vec<(usize, usize)> {
    if old > new {
        return kept(new, old).into_iter().map(|(a, b)| (b, a)).collect();
    }
    let head = old.iter().zip(new).take_while(|(a, b)| a == b).count();
    let (one, two) = (&old[head..], &new[head..]);
    let tail = one.iter().rev().zip(two.iter().rev()).take_while(|(a, b)| a == b).count();
    let (one, two) = (&one[..one.len() - tail], &two[..two.len() - tail]);
    let middle = if one.len().saturating_mul(two.len()) > MOST { Vec::new() } else { longest(one, two) };
    let middle = middle.into_iter().map(|(a, b)| (a + head, b + head));
    let ends = (0..tail).rev().map(|back| (old.len() - 1 - back, new.len() - 1 - back));
    (0..head).map(|at| (at, at)).chain(middle).chain(ends).collect()
}

/// The longest common subsequence, by the table of its lengths.
fn longest<T: PartialEq>(old: &[T], new: &[T]) -> Vec<(usize, usize)> {
    let wide = new.len() + 1;
    let mut lengths = vec![0_u32; (old.len() + 1) * wide];
    for a in (0..old.len()).rev() {
        for b in (0..new.len()).rev() {
            lengths[a * wide + b] = if old[a] == new[b] {
                lengths[(a + 1) * wide + b + 1] + 1
            } else {
                lengths[(a + 1) * wide + b].max(lengths[a * wide + b + 1])
            };
        }
    }
    let (mut a, mut b, mut kept) = (0, 0, Vec::new());
    while a < old.len() && b < new.len() {
        if old[a] == new[b] {
            kept.push((a, b));
            (a, b) = (a + 1, b + 1);
        } else if lengths[(a + 1) * wide + b] >= lengths[a * wide + b + 1] {
            a += 1;
        } else {
            b += 1;
        }
    }
    kept
}

/// Where the rows differ, from the start.
pub fn hunks<T: Ord>(old: &[T], new: &[T]) -> Vec<Hunk> {
    let mut hunks = Vec::new();
    let (mut a, mut b) = (0, 0);
    for (at_old, at_new) in kept(old, new).into_iter().chain([(old.len(), new.len())]) {
        if at_old > a || at_new > b {
            hunks.push(Hunk { old: a..at_old, new: b..at_new });
        }
        (a, b) = (at_old + 1, at_new + 1);
    }
    hunks
}

/// Hunks so near each other that their surroundings would meet, as one.
pub fn reported_together(hunks: Vec<Hunk>) -> Vec<Hunk> {
    let mut reported: Vec<Hunk> = Vec::new();
    for hunk in hunks {
        match reported.last_mut().filter(|last| hunk.new.start - last.new.end <= 2 * AROUND) {
            Some(last) => (last.old.end, last.new.end) = (hunk.old.end, hunk.new.end),
            None => reported.push(hunk),
        }
    }
    reported
}

/// The stretch in quotes with a few words around it: `“… under the lamp …”`.
pub fn stretch(words: &[&str], range: &std::ops::Range<usize>) -> String {
    let (start, end) = (range.start.saturating_sub(AROUND), (range.end + AROUND).min(words.len()));
    let shown = &words[start..end];
    let before = if start > 0 { "… " } else { "" };
    let after = if end < words.len() { " …" } else { "" };
    format!("“{before}{}{after}”", short(shown))
}

fn short(words: &[&str]) -> String {
    if words.len() <= LONG {
        return words.join(" ");
    }
    let half = LONG / 2;
    format!("{} … {}", words[..half].join(" "), words[words.len() - half..].join(" "))
}

/// A text in quotes, the middle of a long one left out.
pub fn quoted(text: &str) -> String {
    format!("“{}”", short(&text.split(' ').collect::<Vec<&str>>()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changed(old: &str, new: &str) -> Vec<(String, String)> {
        let (old, new): (Vec<&str>, Vec<&str>) = (old.split(' ').collect(), new.split(' ').collect());
        let hunks = hunks(&old, &new);
        hunks.into_iter().map(|hunk| (old[hunk.old].join(" "), new[hunk.new].join(" "))).collect()
    }

    fn pair(old: &str, new: &str) -> (String, String) {
        (old.to_owned(), new.to_owned())
    }

    #[test]
    fn only_what_differs_is_in_a_hunk() {
        assert_eq!(changed("a b c d e", "a b c d e"), []);
        assert_eq!(changed("a b c d e", "a x c e"), [pair("b", "x"), pair("d", "")]);
        assert_eq!(changed("a b", "new a b"), [pair("", "new")]);
        assert_eq!(changed("one", "other"), [pair("one", "other")]);
    }

    #[test]
    fn a_stretch_has_its_neighbours() {
        let words: Vec<&str> = "the old lamp burns all night".split(' ').collect();
        assert_eq!(stretch(&words, &(2..3)), "“the old lamp burns all …”");
        assert_eq!(stretch(&words, &(5..6)), "“… burns all night”");
        let (one, two) = (Hunk { old: 0..1, new: 0..1 }, Hunk { old: 4..5, new: 4..4 });
        assert_eq!(reported_together(vec![one, two]), [Hunk { old: 0..5, new: 0..4 }]);
    }
}
