//! Parts of a drawing that are not drawn.
//!
//! Drawings are printed as vectors, and effects that paths cannot show as pictures. Text, pictures within the drawing, animations
//! and effects that would take too long are left out. Some things that a file can say are ignored: clips by CSS shapes, lines
//! that do not scale (`vector-effect`), colours mixed in linear light, `var()`, `calc()`, `@media` and `@import` of CSS, and what
//! lies in other files. The message names all of it. A second message names what the drawing refers to and does not have: a gradient, a mask, a filter.
//!
//! A warning: look at the picture that is built and see whether anything is missing.
//!
//! Way out: turn text and effects into paths in the program that made the drawing, or place it as a picture of pixels.
