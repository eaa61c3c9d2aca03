//! Page files: the page itself, inside the program.

/// Name, type and text of every file; the page begins with the first.
pub const PAGE_FILES: &[(&str, &str, &str)] = &[
    ("index.html", HTML, include_str!("page/index.html")),
    ("page.css", CSS, include_str!("page/page.css")),
    ("icon.svg", SVG, include_str!("page/icon.svg")),
    ("compare.js", SCRIPT, include_str!("page/compare.js")),
    ("elements.js", SCRIPT, include_str!("page/elements.js")),
    ("findings.js", SCRIPT, include_str!("page/findings.js")),
    ("ink.js", SCRIPT, include_str!("page/ink.js")),
    ("keys.js", SCRIPT, include_str!("page/keys.js")),
    ("lines.js", SCRIPT, include_str!("page/lines.js")),
    ("live.js", SCRIPT, include_str!("page/live.js")),
    ("now.js", SCRIPT, include_str!("page/now.js")),
    ("size.js", SCRIPT, include_str!("page/size.js")),
    ("stage.js", SCRIPT, include_str!("page/stage.js")),
    ("start.js", SCRIPT, include_str!("page/start.js")),
    ("talk.js", SCRIPT, include_str!("page/talk.js")),
    ("tiles.js", SCRIPT, include_str!("page/tiles.js")),
    ("trying.js", SCRIPT, include_str!("page/trying.js")),
    ("wall.js", SCRIPT, include_str!("page/wall.js")),
];

const HTML: &str = "text/html; charset=utf-8";
const CSS: &str = "text/css; charset=utf-8";
const SVG: &str = "image/svg+xml";
const SCRIPT: &str = "text/javascript; charset=utf-8";
