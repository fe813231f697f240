//! The rules, one in a file, and their registry. One word here registers a rule.

use super::rule::Rule;

macro_rules! rules {
    ($($family:ident: $($name:ident)*;)*) => {
        $(pub(crate) mod $family { $(pub(crate) mod $name;)* })*

        /// Every rule, in the order of the handbook.
        pub static ALL: &[&Rule] = &[$($(&$family::$name::RULE,)*)*];
    };
}

rules! {
    values: unit_unknown unit_ambiguous value_unreadable range_reversed dual_disagree unit_mixed value_in_prose value_stray;
    tightening: torque_missing torque_unsourced torque_vague torque_for_other torque_over_proof torque_doubtful thread_unknown class_unknown
        drive_doubtful wrench_out_of_range calibration_ended adapter_uncorrected pattern_missing pattern_invalid stages_not_rising one_use_refitted;
    ledger: left_open closed_not_open opened_twice fitted_but_absent out_of_order hardware_short hardware_left_over kit_left_over
        kit_overdrawn part_never_fitted combinations_untried;
    people: caution_missing caution_late caution_incomplete signal_misused licensed_work not_isolated fuse_early drilled_blind
        not_released run_too_early not_raised still_capped;
    wording: two_actions long_sentence not_imperative condition_after vague_wording instruction_in_note caution_in_words count_disagrees
        operation_untold;
    wiring: pin_twice pin_gap side_untold wire_colour_unknown wire_unknown fuse_over_wire fuse_unknown drop_too_large circuit_impossible wire_limit_wrong;
    document: source_missing revision_missing fits_missing steps_missing hours_disagree final_check_missing tool_missing tool_unused
        photo_missing photo_unreadable photo_without_words photo_too_small callout_outside callout_without_picture callout_twice drawing_unsafe drawing_cleaned link_broken address_refused markup_shown
        rule_unknown option_impossible option_unused id_unknown id_twice slug_twice key_unknown key_missing type_wrong block_unreadable text_unreadable acceptance_unused;
}

#[cfg(test)]
mod tests;
