//! The line breaker against outside evidence: published values, every possible paragraph, another program.

use crate::typeset::lines::{LineEnd, Sum, Taste, best_lines, ratio};

#[derive(Clone, Copy, Debug)]
pub enum KnuthItem {
    Word(i32),
    Glue(i32, i32, i32),
    Hyphen(i32, i32),
}
use KnuthItem::{Glue, Hyphen, Word};

pub const TASTE: Taste = Taste {
    zone: None,
    even_last: false,
    line: 10.0,
    uneven: 0.0,
    hyphen_pair: 30_000.0,
    last_hyphen: 0.0,
    lonely: 0.0,
    least_last: 0.0,
    short_last: 0.0,
    in_row: 99,
    fault: 0.0,
};

/// Every demerit there is.
pub const EVERY_DEMERIT: Taste = Taste {
    uneven: 6_000.0,
    last_hyphen: 40_000.0,
    lonely: 150_000.0,
    least_last: 0.3,
    short_last: 50_000.0,
    in_row: 1,
    fault: 1e7,
    ..TASTE
};

/// Boxes, glue and penalties as chances: a line ends before glue, glue at a break is lost.
pub fn chances(items: &[KnuthItem]) -> Vec<LineEnd> {
    let mut chances = vec![LineEnd::default()];
    let mut sum = Sum::default();
    let mut blanks = 0;
    for item in items {
        match *item {
            Word(width) => sum.width += f64::from(width),
            Glue(width, stretch, shrink) => {
                let end = sum;
                sum.width += f64::from(width);
                sum.stretch += f64::from(stretch);
                sum.shrink += f64::from(shrink);
                chances.push(LineEnd { end, start: sum, joints: (blanks, blanks + 1), ..LineEnd::default() });
                blanks += 1;
            }
            Hyphen(width, cost) => {
                let end = Sum { width: sum.width + f64::from(width), ..sum };
                chances.push(LineEnd {
                    end,
                    start: sum,
                    cost: f64::from(cost),
                    hyphen: true,
                    joints: (blanks, blanks),
                });
            }
        }
    }
    chances.push(LineEnd { end: sum, start: sum, joints: (blanks, blanks), ..LineEnd::default() });
    chances
}

/// Knuth and Plass, Breaking Paragraphs into Lines, 1981 (text and widths from memory, agreed by public programs).
const FROG_KING: &str = "In olden times when wish~ing still helped one, there lived a king whose daugh~ters were all \
    beau~ti~ful; and the young~est was so beau~ti~ful that the sun it~self, which has seen so much, was aston~ished \
    when~ever it shone in her face. Close by the king's castle lay a great dark for~est, and un~der an old lime-tree \
    in the for~est was a well, and when the day was very warm, the king's child went out into the for~est and sat \
    down by the side of the cool foun~tain; and when she was bored she took a golden ball, and threw it up on high \
    and caught it; and this ball was her favor~ite play~thing.";

fn frog_king() -> Vec<KnuthItem> {
    const WIDTHS: [i32; 26] =
        [9, 10, 8, 10, 8, 6, 9, 10, 5, 6, 10, 5, 15, 10, 9, 10, 10, 7, 7, 7, 10, 9, 13, 10, 10, 8];
    let mut items = vec![Word(18)];
    let mut before = ' ';
    for letter in FROG_KING.chars() {
        items.push(match letter {
            'a'..='z' => Word(WIDTHS[letter as usize - 'a' as usize]),
            'C' => Word(13),
            'I' | '-' => Word(6),
            ' ' => match before {
                ',' => Glue(6, 4, 2),
                ';' => Glue(6, 4, 1),
                '.' => Glue(8, 6, 1),
                _ => Glue(6, 3, 2),
            },
            '~' => Hyphen(6, 50),
            _ => Word(5),
        });
        if letter == '-' {
            items.push(Hyphen(0, 50));
        }
        before = letter;
    }
    items
}

#[test]
fn the_frog_king_breaks_as_published() {
    let chances = chances(&frog_king());
    for (measure, published, hyphens) in [
        (390.0, &[0.857, 0.0, 0.280, 1.0, 0.067, -0.278, 0.536, -0.167, 0.700, -0.176, 0.357][..], 2),
        (500.0, &[0.774, 0.179, 0.629, 0.545, 0.0, 0.079, 0.282, 0.294, 0.575][..], 0),
    ] {
        let breaks = best_lines(&chances, &|_| measure, 0, &TASTE, None);
        let mut from = 0;
        let mut ratios = Vec::new();
        for at in &breaks {
            ratios.push(ratio(chances[*at].end.minus(chances[from].start), measure, false, &TASTE));
            from = *at;
        }
        // The last line's depends on what fills it up.
        ratios.pop();
        let rounded: Vec<f64> = ratios.iter().map(|ratio| (ratio * 1000.0).round() / 1000.0 + 0.0).collect();
        assert_eq!(rounded, published);
        assert_eq!(breaks.iter().filter(|at| chances[**at].hyphen).count(), hyphens);
    }
}

/// Numbers that look random and are the same every time (a linear congruence, Knuth's MMIX constants).
pub fn dice(seed: &mut u64, sides: u64) -> i32 {
    *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    ((*seed >> 33) % sides) as i32
}

pub fn paragraph(seed: &mut u64, words: usize) -> Vec<KnuthItem> {
    let mut items = Vec::new();
    for word in 0..words {
        if word > 0 {
            items.push(Glue(6, 3 + dice(seed, 2), 2));
        }
        items.push(Word(10 + dice(seed, 40)));
        if dice(seed, 3) == 0 {
            items.extend([Hyphen(6, 50), Word(10 + dice(seed, 30))]);
        }
    }
    items
}

/// The demerits of a set of breaks, in plain form.
pub fn demerits(chances: &[LineEnd], breaks: &[usize], measure: &dyn Fn(usize) -> f64, taste: &Taste) -> f64 {
    let end = chances.len() - 1;
    let (mut total, mut from, mut row) = (0.0, 0, 0);
    let mut before: Option<f64> = None;
    for (number, at) in breaks.iter().enumerate() {
        let line = chances[*at].end.minus(chances[from].start);
        let short = measure(number) - line.width;
        let last = *at == end;
        let ratio = match (short, taste.zone) {
            (short, Some(_)) if short < 0.0 => return f64::INFINITY,
            (_, Some(_)) if last && !taste.even_last => 0.0,
            (short, Some(zone)) => (short / zone).min(30.0),
            _ if last && short >= 0.0 => 0.0,
            // Looser than this is all the same.
            (short, None) if short >= 0.0 => (short / line.stretch.max(1e-9)).min(30.0),
            (short, None) => short / line.shrink.max(1e-9),
        };
        if ratio < -1.0 {
            return f64::INFINITY;
        }
        total += (taste.line + 100.0 * ratio.abs().powi(3)).powi(2) + chances[*at].cost.powi(2);
        let seen = ratio.min(3.0);
        if let (Some(before), None) = (before, taste.zone) {
            total += taste.uneven * (seen - before).abs();
        }
        before = Some(seen);
        row = if chances[*at].hyphen { row + 1 } else { 0 };
        total += if row > 1 { taste.hyphen_pair } else { 0.0 };
        total += if row > taste.in_row { taste.fault } else { 0.0 };
        if last && from > 0 {
            total += if chances[from].hyphen { taste.last_hyphen } else { 0.0 };
            total += if chances[*at].joints.0 <= chances[from].joints.1 { taste.lonely } else { 0.0 };
            total += if line.width < taste.least_last * measure(number) { taste.short_last } else { 0.0 };
        }
        from = *at;
    }
    total
}

/// All sets of breaks of small paragraphs, with every demerit there is, lines of differing widths, justified, ragged and
/// balanced, and with a number of lines that is asked for.
#[test]
fn no_other_set_of_breaks_is_better() {
    let mut seed = 1;
    let mut compared = [0; 4];
    for round in 0..4000 {
        let kind = round % 4;
        let taste = Taste { zone: [None, None, Some(20.0), Some(35.0)][kind], even_last: kind == 3, ..EVERY_DEMERIT };
        let words = 3 + dice(&mut seed, 5) as usize;
        let chances = chances(&paragraph(&mut seed, words));
        let widths: Vec<f64> = (0..3).map(|_| f64::from(80 + dice(&mut seed, 60))).collect();
        let measure = |line: usize| widths[line.min(2)];
        let end = chances.len() - 1;
        let wanted = (dice(&mut seed, 3) == 0).then(|| {
            let least = 1 + dice(&mut seed, 4) as usize;
            (least, least + dice(&mut seed, 2) as usize)
        });
        let sets: Vec<(Vec<usize>, f64)> = (0..1_u32 << (end - 1))
            .map(|set| {
                let inner = (1..end).filter(|at| set & (1 << (at - 1)) != 0);
                let breaks = inner.chain([end]).collect::<Vec<usize>>();
                let cost = demerits(&chances, &breaks, &measure, &taste);
                (breaks, cost)
            })
            .filter(|(_, cost)| cost.is_finite())
            .collect();
        let of = |wanted: Option<(usize, usize)>| {
            let asked = |breaks: &[usize]| wanted.is_none_or(|(low, high)| (low..=high).contains(&breaks.len()));
            sets.iter().filter(|(breaks, _)| asked(breaks)).map(|(_, cost)| *cost).min_by(f64::total_cmp)
        };
        let Some(least) = of(wanted).or_else(|| of(None)) else { continue };
        // What fits in one line is never broken unless it is asked for.
        if wanted.is_none() && sets.iter().any(|(breaks, _)| breaks.len() == 1) {
            continue;
        }
        let breaks = best_lines(&chances, &measure, 2, &taste, wanted);
        let ours = demerits(&chances, &breaks, &measure, &taste);
        assert!((ours - least).abs() <= least * 1e-9, "{kind} {wanted:?} {ours} {least} {breaks:?} {chances:?}");
        compared[kind] += 1;
    }
    assert!(compared.iter().all(|count| *count > 500), "{compared:?}");
}

#[test]
fn another_program_finds_nothing_better() {
    use paragraph_breaker::{INFINITE_PENALTY, Item as Other, total_fit};
    let mut seed = 7;
    let (mut compared, mut same) = (0, 0);
    for _ in 0..200 {
        let items = paragraph(&mut seed, 60);
        let measure = 250 + dice(&mut seed, 150);
        let mut others: Vec<Other<()>> = items
            .iter()
            .map(|item| match *item {
                Word(width) => Other::Box { width, data: () },
                Glue(width, stretch, shrink) => Other::Glue { width, stretch, shrink },
                Hyphen(width, penalty) => Other::Penalty { width, penalty, flagged: true },
            })
            .collect();
        others.push(Other::Penalty { width: 0, penalty: INFINITE_PENALTY, flagged: false });
        others.push(Other::Glue { width: 0, stretch: 100_000, shrink: 0 });
        others.push(Other::Penalty { width: 0, penalty: -INFINITE_PENALTY, flagged: false });
        let theirs: Vec<usize> = total_fit(&others, &[measure], 3.0, 0).iter().map(|point| point.index).collect();
        if theirs.is_empty() {
            continue;
        }
        let chances = chances(&items);
        let places: Vec<usize> =
            items.iter().enumerate().filter(|(_, item)| !matches!(item, Word(_))).map(|(at, _)| at).collect();
        let theirs: Vec<usize> = theirs
            .iter()
            .map(|index| places.iter().position(|at| at == index).map_or(chances.len() - 1, |at| at + 1))
            .collect();
        let measure = f64::from(measure);
        let ours = best_lines(&chances, &|_| measure, 0, &TASTE, None);
        let cost = |breaks: &[usize]| demerits(&chances, breaks, &|_| measure, &TASTE);
        assert!(cost(&ours) <= cost(&theirs) + 1e-6);
        compared += 1;
        // It judges neighbouring lines by classes and badness in whole numbers, so that some fall otherwise.
        same += usize::from(ours == theirs);
    }
    assert!(compared > 150 && same * 10 > compared * 8, "{same} of {compared}");
}
