//! Blocks: the pieces of covers that the manual shows, made whole.

/// The text of every ```` ```kdl ```` block.
pub fn kdl(page: &str) -> Vec<String> {
    let blocks = page.split("```kdl\n").skip(1);
    blocks.filter_map(|rest| rest.split_once("```").map(|(block, _)| block.to_owned())).collect()
}

/// Whether a word begins a line or follows a brace or semicolon in it.
pub fn mentions(block: &str, word: &str) -> bool {
    block.split(|letter: char| letter.is_whitespace() || matches!(letter, '{' | ';')).any(|stated| stated == word)
}

/// A block of facts and panels takes the place of the same ones in a base; a block of elements stands on its front.
pub fn whole(base: &str, block: &str, is_top: impl Fn(&str) -> bool) -> String {
    let first = |line: &str| line.split_whitespace().next().unwrap_or_default().to_owned();
    let tops: Vec<String> = block.lines().filter(|line| !line.starts_with([' ', '}', '/'])).map(first).collect();
    if !tops.iter().any(|word| is_top(word)) {
        return format!("{base}panel front {{\n{block}}}\n");
    }
    // Each fact of the base stands on one line.
    let kept = base.lines().filter(|line| !tops.contains(&first(line)));
    kept.map(|line| line.to_owned() + "\n").collect::<String>() + block
}
