//! Parts of a drawing that are printed as pictures.
//!
//! Drawings are printed as vectors. Effects that paths cannot show are printed as pictures, each element alone with all that is in
//! it: filters such as blurs and shadows, blend modes other than `multiply` with the group in which they mix, patterns of very
//! many tiles, gradients that repeat more than 100 times, whose focus is at the edge of their circle or beyond it, or of no
//! length, and masks with `multiply` in them. The message names four of the elements by their ids, or by their places in the
//! drawing, and how many more there are, and says how many pixels per inch the pictures have: 450, or fewer where that would
//! take too long. All drawings of a cover share what their effects may take, so those of a small one may be coarse beside
//! several large ones.
//!
//! A note: nothing is lost, but edges in these places are as fine as those of any picture, and their colours are converted like
//! those of an RGB picture.
//!
//! Way out: nothing needs to be done. Where an edge must stay sharp, or an ink must be a swatch, draw it without such an effect.
