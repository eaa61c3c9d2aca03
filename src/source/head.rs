//! Head: the first lines of a source file of ours are a page of the manual.

/// The `//!` lines of a source file, as Markdown.
pub fn manual(source: &str) -> String {
    let lines = source.lines().take_while(|line| line.starts_with("//!"));
    let page: Vec<&str> = lines.map(|line| line.trim_start_matches("//!").strip_prefix(' ').unwrap_or("")).collect();
    page.join("\n") + "\n"
}
