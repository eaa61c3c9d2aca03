//! Parts of a drawing that are not drawn.
//!
//! Drawings are printed as vectors, text in them as outlines, and effects that paths cannot show as pictures. Left out are
//! drawings within the drawing, pictures that lie elsewhere or behind an effect, animations, effects that would take too long
//! and letters that a path has no room for. Some things that a file can say are ignored: clips by CSS shapes, lines that do not
//! scale (`vector-effect`), colours mixed in linear light, `var()`, `calc()`, `@media` and `@import` of CSS, what lies in other
//! files, and of text what flows in a shape (`shape-inside`), `text-transform`, `font-feature-settings` and `direction`. Letters
//! that are set apart stay joined where the font joins them (`fi`). The message names all of it. A second message names what the
//! drawing refers to and does not have: a gradient, a mask, a filter.
//!
//! A warning: look at the picture that is built and see whether anything is missing.
//!
//! Way out: turn text and effects into paths in the program that made the drawing, or place it as a picture of pixels.
