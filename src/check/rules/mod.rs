//! The rules, one file each. A file's head is its manual page.

use crate::check::rule::CheckRule;

mod alt_text_missing;
mod bar_code_colour;
mod bar_code_missing;
mod bar_code_on_screen;
mod bar_code_picture;
mod bar_code_place;
mod bar_code_quiet_zone;
mod bar_code_size;
mod black_not_overprinting;
mod bleed_short;
pub mod colour_break_on_fold;
mod copy_marks;
mod cut_by_clip;
mod cut_by_screen;
mod die_line_through;
mod effective_resolution;
mod empty_front;
mod enlarged_picture;
mod facts_disagree;
mod faint_tint;
mod few_pixels;
mod finer_than_printed;
mod finishing_detail;
mod finishing_near_edge;
mod finishing_plate;
mod flap_too_wide;
mod font_embedding;
mod gradient_steps;
mod hairline;
mod ink_over_limit;
mod inks_limited;
mod jpeg_quality;
mod keyline_differs;
mod line_breaks;
mod line_missing;
mod low_contrast;
mod many_plates;
mod missing_glyph;
mod nothing_shows;
mod on_fold;
mod other_language;
mod out_of_gamut;
mod outside_safe;
mod page_section;
mod pictures_in_jpeg;
mod placeholder_left;
mod plain_black_area;
mod price_missing;
mod qr_code_hard_to_read;
mod quote_attribution;
mod rights_missing;
mod sheet_too_large;
mod shop_ratio;
mod shown_not_approved;
mod small_type;
mod small_type_in_several_inks;
mod soft_edge_cut;
mod spine_clearance;
mod spine_direction_unlike_market;
mod spine_foot;
mod spine_hard_to_bind;
mod spine_legibility;
mod spine_too_thin;
mod spot_look;
mod spot_names;
mod stale_year;
mod thumbnail;
mod too_many_bytes;
mod transparency_composed;
mod two_spellings;
mod unknown_word;
mod white_edge;
mod white_overprint;
mod white_seam;
mod words_covered;
mod words_on_more_plates;
mod words_run_onto;

/// In the order of a printer's list: geometry, pictures and ink, type and copy, bar code; then those of screens.
pub const RULES: &[&CheckRule] = &[
    &words_covered::RULE,
    &cut_by_clip::RULE,
    &die_line_through::RULE,
    &words_run_onto::RULE,
    &words_on_more_plates::RULE,
    &nothing_shows::RULE,
    &outside_safe::RULE,
    &bleed_short::RULE,
    &on_fold::RULE,
    &spine_clearance::RULE,
    &spine_too_thin::RULE,
    &spine_hard_to_bind::RULE,
    &sheet_too_large::RULE,
    &keyline_differs::RULE,
    &spine_foot::RULE,
    &spine_legibility::RULE,
    &spine_direction_unlike_market::RULE,
    &colour_break_on_fold::RULE,
    &flap_too_wide::RULE,
    &page_section::RULE,
    &effective_resolution::RULE,
    &finer_than_printed::RULE,
    &jpeg_quality::RULE,
    &pictures_in_jpeg::RULE,
    &soft_edge_cut::RULE,
    &out_of_gamut::RULE,
    &ink_over_limit::RULE,
    &inks_limited::RULE,
    &plain_black_area::RULE,
    &faint_tint::RULE,
    &gradient_steps::RULE,
    &hairline::RULE,
    &white_overprint::RULE,
    &white_seam::RULE,
    &black_not_overprinting::RULE,
    &spot_names::RULE,
    &spot_look::RULE,
    &many_plates::RULE,
    &finishing_plate::RULE,
    &finishing_near_edge::RULE,
    &finishing_detail::RULE,
    &transparency_composed::RULE,
    &missing_glyph::RULE,
    &font_embedding::RULE,
    &small_type::RULE,
    &small_type_in_several_inks::RULE,
    &low_contrast::RULE,
    &facts_disagree::RULE,
    &placeholder_left::RULE,
    &copy_marks::RULE,
    &two_spellings::RULE,
    &unknown_word::RULE,
    &line_breaks::RULE,
    &other_language::RULE,
    &stale_year::RULE,
    &quote_attribution::RULE,
    &rights_missing::RULE,
    &line_missing::RULE,
    &price_missing::RULE,
    &bar_code_missing::RULE,
    &bar_code_size::RULE,
    &bar_code_quiet_zone::RULE,
    &bar_code_colour::RULE,
    &qr_code_hard_to_read::RULE,
    &bar_code_place::RULE,
    &bar_code_picture::RULE,
    &shown_not_approved::RULE,
    &alt_text_missing::RULE,
    &empty_front::RULE,
    &white_edge::RULE,
    &few_pixels::RULE,
    &enlarged_picture::RULE,
    &cut_by_screen::RULE,
    &thumbnail::RULE,
    &bar_code_on_screen::RULE,
    &shop_ratio::RULE,
    &too_many_bytes::RULE,
];

#[cfg(test)]
mod tests {
    use super::RULES;
    use crate::check::pages::PAGES;
    use crate::check::testing::{example_text, reported};
    use crate::language::HEADWORDS;
    use crate::source::manual;

    #[test]
    fn every_page_begins_with_a_sentence_and_has_an_example_that_offends() {
        for rule in RULES {
            let page = manual(rule.source);
            let first = page.lines().next().unwrap_or_default();
            assert!(first.ends_with('.') && first.len() < 110, "{}: {first}", rule.name);
            assert!(page.contains("Way out: "), "{} names no way out", rule.name);
            let example = example_text(rule.source).expect("a page has an example");
            let known = !example.contains("barcode ") || HEADWORDS.iter().any(|word| word.word.name == "barcode");
            // A font of one's own cannot stand in a test; the rule's own tests bring one.
            if known && rule.name != "font-embedding" {
                assert!(!reported(rule, &example).is_empty(), "the example of {} does not offend", rule.name);
            }
        }
    }

    #[test]
    fn names_stand_once() {
        let mut names: Vec<&str> = RULES.iter().map(|rule| rule.name).chain(PAGES.iter().map(|page| page.0)).collect();
        names.sort_unstable();
        assert!(names.windows(2).all(|pair| pair[0] != pair[1]));
    }
}
