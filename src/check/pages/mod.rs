//! Pages of findings that other rooms raise, one file each: each is nothing but its head.

mod approval_open;
mod binding_side_assumed;
mod changed_since_approval;
mod colour_space_assumed;
mod condition_disagrees;
mod condition_unknown;
mod copy;
mod drawing_left_out;
mod drawing_pictured;
mod extent_estimated;
mod face_missing;
mod file;
mod inks_converted;
mod isbn_range;
mod language;
mod letters_touch;
mod limit_relaxed;
mod loose_line;
mod no_hyphenation;
mod overmatter;
mod picture_damaged;
mod profile_not_used;
mod rgb_converted;
mod signs_set;
mod stand_in_left;
mod waiver_ended;
mod waiver_unused;

/// Names of findings and the files whose heads are their pages.
pub const PAGES: &[(&str, &str)] = &[
    ("approval-open", include_str!("approval_open.rs")),
    ("binding-side-assumed", include_str!("binding_side_assumed.rs")),
    ("changed-since-approval", include_str!("changed_since_approval.rs")),
    ("colour-space-assumed", include_str!("colour_space_assumed.rs")),
    ("condition-disagrees", include_str!("condition_disagrees.rs")),
    ("condition-unknown", include_str!("condition_unknown.rs")),
    ("copy", include_str!("copy.rs")),
    ("drawing-left-out", include_str!("drawing_left_out.rs")),
    ("drawing-pictured", include_str!("drawing_pictured.rs")),
    ("extent-estimated", include_str!("extent_estimated.rs")),
    ("face-missing", include_str!("face_missing.rs")),
    ("file", include_str!("file.rs")),
    ("inks-converted", include_str!("inks_converted.rs")),
    ("isbn-range", include_str!("isbn_range.rs")),
    ("language", include_str!("language.rs")),
    ("letters-touch", include_str!("letters_touch.rs")),
    ("limit-relaxed", include_str!("limit_relaxed.rs")),
    ("loose-line", include_str!("loose_line.rs")),
    ("no-hyphenation", include_str!("no_hyphenation.rs")),
    ("overmatter", include_str!("overmatter.rs")),
    ("picture-damaged", include_str!("picture_damaged.rs")),
    ("profile-not-used", include_str!("profile_not_used.rs")),
    ("rgb-converted", include_str!("rgb_converted.rs")),
    ("signs-set", include_str!("signs_set.rs")),
    ("stand-in-left", include_str!("stand_in_left.rs")),
    ("waiver-ended", include_str!("waiver_ended.rs")),
    ("waiver-unused", include_str!("waiver_unused.rs")),
];
