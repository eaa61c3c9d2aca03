//! Parts of a drawing that are not drawn.
//!
//! Drawings are printed as vectors, text in them as outlines, and effects that paths cannot show as pictures. Left out are
//! drawings within the drawing, pictures that lie elsewhere or behind an effect, animations, effects that would take too long
//! and letters that a path has no room for. The message names all of it. A second message names what the drawing refers to and
//! does not have: a gradient, a mask, a filter. Ignored is some of what a file can say:
//!
//! - of CSS: clips by shapes, `var()`, `calc()`, `@media`, `@import`, a `media` of a style sheet, selectors other than of names,
//!   classes, attributes that are there or equal, and first children; transforms by percent, of gradients and with a
//!   `transform-box`; `rotate`, `translate`, `scale` and `offset-path`; `backdrop-filter`; sizes and places of shapes (`cx`, `d`).
//! - of SVG: lines that do not scale (`vector-effect`), colours mixed in linear light, `pathLength` of dashes, a size or place
//!   that a `symbol` states itself, lengths in `rem`, `ch` and parts of the view (`vw`); `ex` is half an `em`. Markers of
//!   rectangles, circles and ellipses are drawn, which browsers leave out.
//! - of text: what flows in a shape (`shape-inside`), `text-transform`, `font-feature-settings` and `direction`. Letters that are
//!   set apart stay joined where the font joins them (`fi`).
//! - what lies in other files.
//!
//! Colours may be written in every way of CSS Color 4: by name, `#abc`, `rgb()`, `hsl()`, `lab()`. One that cannot be read is
//! named, and what was stated before or around it holds; of `#d62828 icc-color(…)`, the sRGB colour counts.
//!
//! A warning: look at the picture that is built and see whether anything is missing.
//!
//! Way out: turn text and effects into paths in the program that made the drawing, or place it as a picture of pixels.
