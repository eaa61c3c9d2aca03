//! The best breaks for a paragraph: total fit, after Knuth and Plass.
//!
//! Every place where a line may end is a chance. Going through the chances once, we keep for each the cheapest way to
//! get there (one for each state that later lines can feel), and read the best paragraph off the last.

/// Width, and how far it may grow and give.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sum {
    pub width: f64,
    pub stretch: f64,
    pub shrink: f64,
}

impl Sum {
    pub fn minus(self, other: Sum) -> Sum {
        Sum {
            width: self.width - other.width,
            stretch: self.stretch - other.stretch,
            shrink: self.shrink - other.shrink,
        }
    }
}

/// A place where a line may end. Sums count from the paragraph's beginning: a line from one chance to another is
/// `end` of the latter minus `start` of the former, so blanks at a break, hyphens and hanging points are in them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LineEnd {
    pub end: Sum,
    pub start: Sum,
    /// What it costs to break here, on the scale of badness (a line at the limit of its stretch has 100).
    pub cost: f64,
    pub hyphen: bool,
    /// Word spaces (or gaps between ideographs) up to here, and up to the next line's beginning.
    pub joints: (u32, u32),
}

/// What makes a paragraph good.
#[derive(Clone, Debug, PartialEq)]
pub struct Taste {
    /// Ragged lines cost by how far they fall short, counted in this width; `None` justifies.
    pub zone: Option<f64>,
    /// The last line's shortfall counts too, so that a centred title comes out balanced.
    pub even_last: bool,
    /// The cost of a line as such.
    pub line: f64,
    /// Demerits for each unit by which the ratios of two neighbouring lines differ: a tight line beside a loose one.
    pub uneven: f64,
    /// Demerits: hyphens in two lines running; a hyphen into the last line; a one-word last line.
    pub hyphen_pair: f64,
    pub last_hyphen: f64,
    pub lonely: f64,
    /// A last line shorter than this share of its measure costs `short_last`.
    pub least_last: f64,
    pub short_last: f64,
    /// Most hyphens in a row.
    pub in_row: usize,
    /// Demerits of what no good paragraph does: more hyphens in a row.
    pub fault: f64,
}

/// Least and most lines that are wanted.
pub type Wanted = Option<(usize, usize)>;

/// The chances at which lines end, what they cost together, and whether they are as was asked.
#[derive(Clone, Debug, Default)]
pub struct WeighedLines {
    pub breaks: Vec<usize>,
    pub demerits: f64,
    pub asked: bool,
}

/// Looser than this is all the same; it is still better than too long.
const WORST: f64 = 30.0;

/// A line too long, where a word leaves no other way.
const OVERFULL: f64 = 1e15;

/// Lines looser than this do not differ to the eye.
const LOOSEST: f64 = 3.0;

/// A line too long by this much will not fit at any later chance (a later one may lack a hyphen that this one has).
const HOPELESS: f64 = 1.5;

/// So many open lines are weighed against each other, more than any measure of a cover holds; beyond twice as many the
/// worse of any two neighbours is given up.
const CROWD: usize = 300;

/// How a line meets its measure: -1 all shrink used, 0 as drawn, 1 all stretch used.
pub fn ratio(line: Sum, measure: f64, last: bool, taste: &Taste) -> f64 {
    let short = measure - line.width;
    match taste.zone {
        // A hair of tolerance, so that rounding never pushes a word over.
        Some(_) if short < -1e-9 => -2.0 + short,
        Some(_) if last && !taste.even_last => 0.0,
        Some(zone) => (short.max(0.0) / zone).min(WORST),
        None if short >= 0.0 && last => 0.0,
        None if short >= 0.0 => (short / line.stretch.max(1e-9)).min(WORST),
        None => (short / line.shrink.max(1e-9)).max(-1e6),
    }
}

#[derive(Clone, Copy)]
struct Way {
    chance: u32,
    /// Lines so far, counted only as long as they differ in measure.
    line: u32,
    /// What the next line is compared with.
    ratio: f64,
    hyphens: u8,
    demerits: f64,
    previous: u32,
}

/// The chances at which the lines of a paragraph end. The first chance is its beginning, the last its end. `measure`
/// gives each line's width by its number; from line `same` on they are all as line `same`. Where no paragraph has as many
/// lines as are wanted, the best of any number is given.
pub fn best_lines(
    chances: &[LineEnd],
    measure: &dyn Fn(usize) -> f64,
    same: usize,
    taste: &Taste,
    wanted: Wanted,
) -> Vec<usize> {
    weighed(chances, measure, same, taste, wanted).breaks
}

/// The same, with what the lines cost; whether they are as many as are wanted, and none too long.
pub fn weighed(
    chances: &[LineEnd],
    measure: &dyn Fn(usize) -> f64,
    same: usize,
    taste: &Taste,
    wanted: Wanted,
) -> WeighedLines {
    let Some(end) = chances.len().checked_sub(1).filter(|end| *end > 0) else { return WeighedLines::default() };
    let begin = Way { chance: 0, line: 0, ratio: 0.0, hyphens: 0, demerits: 0.0, previous: u32::MAX };
    // All in one line: nothing to weigh.
    let all = chances[end].end.minus(chances[0].start);
    if wanted.is_none_or(|(least, _)| least <= 1) && all.width <= measure(0) {
        let ratio = ratio(all, measure(0), true, taste);
        let line = extend(&begin, 0, &chances[0], &chances[end], (ratio, 0.0, measure(0)), end, end, taste);
        return WeighedLines { breaks: vec![end], demerits: line.demerits, asked: true };
    }
    // Lines are told apart as far as their number counts.
    let same = same.max(wanted.map_or(0, |(_, most)| most.min(end) + 1));
    let measures: Vec<f64> = (0..=same).map(measure).collect();
    let mut ways = vec![begin];
    let mut active: Vec<u32> = vec![0];
    let mut found: Vec<Way> = Vec::new();
    for (at, chance) in chances.iter().enumerate().skip(1) {
        found.clear();
        // Where every line would be too long, the least of them: words are set beside the measure, never lost.
        let mut least: Option<(f64, Way)> = None;
        active.retain(|index| {
            let way = ways[*index as usize];
            let from = &chances[way.chance as usize];
            let line = chance.end.minus(from.start);
            let measure = measures[way.line as usize];
            let ratio = ratio(line, measure, at == end, taste);
            let next = way.chance as usize + 1 == at;
            let over = line.width - measure;
            let stays = over - line.shrink.max(0.0) <= HOPELESS;
            let fits = ratio >= -1.0 - 1e-9 || next || at == end;
            if fits || !stays {
                let line = (way.line + 1).min(same as u32);
                let way = Way { line, ..extend(&way, *index, from, chance, (ratio, over, measure), at, end, taste) };
                if fits {
                    keep(&mut found, way, taste);
                } else if least.as_ref().is_none_or(|known| over < known.0) {
                    least = Some((over, way));
                }
            }
            stays
        });
        if active.is_empty() && found.is_empty() {
            found.extend(least.map(|(_, way)| way));
        }
        for way in &found {
            active.push(ways.len() as u32);
            ways.push(*way);
        }
        if active.len() > 2 * CROWD {
            let newest = active.split_off(active.len() - found.len());
            thin(&mut active, &ways);
            active.extend(newest);
        }
    }
    let whole = || ways.iter().enumerate().filter(|(_, way)| way.chance as usize == end);
    let least = |a: &(usize, &Way), b: &(usize, &Way)| a.1.demerits.total_cmp(&b.1.demerits);
    let asked = wanted.and_then(|(low, high)| {
        whole().filter(|(_, way)| (low..=high).contains(&(way.line as usize)) && way.demerits < OVERFULL).min_by(least)
    });
    let Some((mut at, last)) = asked.or_else(|| whole().min_by(least)) else { return WeighedLines::default() };
    let (demerits, asked) = (last.demerits, asked.is_some() || wanted.is_none());
    let mut breaks = Vec::new();
    while at != 0 {
        breaks.push(ways[at].chance as usize);
        at = ways[at].previous as usize;
    }
    breaks.reverse();
    WeighedLines { breaks, demerits, asked }
}

#[expect(clippy::too_many_arguments, reason = "the inner loop hands over what it has at hand")]
fn extend(
    way: &Way,
    index: u32,
    from: &LineEnd,
    chance: &LineEnd,
    (ratio, over, measure): (f64, f64, f64),
    at: usize,
    end: usize,
    taste: &Taste,
) -> Way {
    let hyphens = if chance.hyphen { way.hyphens.saturating_add(1) } else { 0 };
    let mut demerits = line_demerits(ratio, chance.cost, taste);
    if ratio < -1.0 - 1e-9 {
        demerits = OVERFULL * (1.0 + over.max(0.0));
    }
    let seen = ratio.clamp(-1.0, LOOSEST);
    if way.chance > 0 {
        demerits += difference(seen, way.ratio, taste);
    }
    if hyphens > 1 {
        demerits += taste.hyphen_pair;
    }
    if usize::from(hyphens) > taste.in_row {
        demerits += taste.fault;
    }
    if at == end && way.chance > 0 {
        if from.hyphen {
            demerits += taste.last_hyphen;
        }
        if chance.joints.0 <= from.joints.1 {
            demerits += taste.lonely;
        }
        if chance.end.minus(from.start).width < taste.least_last * measure {
            demerits += taste.short_last;
        }
    }
    // A run of hyphens beyond the limit costs the same however long: states stay few.
    let hyphens = hyphens.min(u8::try_from(taste.in_row + 1).unwrap_or(u8::MAX));
    Way { chance: at as u32, line: 0, ratio: seen, hyphens, demerits: way.demerits + demerits, previous: index }
}

/// Ragged lines may differ.
fn difference(one: f64, other: f64, taste: &Taste) -> f64 {
    if taste.zone.is_some() { 0.0 } else { taste.uneven * (one - other).abs() }
}

fn line_demerits(ratio: f64, cost: f64, taste: &Taste) -> f64 {
    let bad = taste.line + 100.0 * ratio.abs().powi(3);
    bad * bad + cost * cost.abs()
}

/// Of any two neighbours the better one stays.
fn thin(active: &mut Vec<u32>, ways: &[Way]) {
    let demerits = |index: &u32| ways[*index as usize].demerits;
    let better = active.chunks(2).filter_map(|pair| pair.iter().min_by(|a, b| demerits(a).total_cmp(&demerits(b))));
    *active = better.copied().collect();
}

/// A way is given up for another to the same place that no later line can make the dearer one: what a difference to the
/// next line costs is at most what the two differ by themselves (the triangle inequality).
fn keep(found: &mut Vec<Way>, way: Way, taste: &Taste) {
    let alike = |one: &Way, other: &Way| one.line == other.line && one.hyphens == other.hyphens;
    let beats = |one: &Way, other: &Way| {
        alike(one, other) && one.demerits + difference(one.ratio, other.ratio, taste) <= other.demerits
    };
    if !found.iter().any(|known| beats(known, &way)) {
        found.retain(|known| !beats(&way, known));
        found.push(way);
    }
}
