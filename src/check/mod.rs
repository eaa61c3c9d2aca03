//! Questions to the finished cover.
