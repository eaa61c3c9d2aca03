//! Parts of a drawing that are not drawn.
//!
//! Drawings are kept as paths of ink. What an SVG file holds beyond that, such as filters, patterns, pictures and text, is
//! left out, and the message names it.
//!
//! A warning: look at the picture that is built and see whether anything is missing.
//!
//! Way out: turn text and effects into paths in the program that made the drawing, or place it as a picture of pixels.
