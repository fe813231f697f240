//! The table of faults: what it is, which rule must find it, and which other rules may rightly speak too.
//! How each is put into a guide stands in the files of its kind.

use bayleaf::guide::model::Guide;

use super::clean::{Broken, Clean};
use super::{document, engineering, joints, ledger, people, values, wording};

/// One way to break a guide.
pub(crate) struct Fault {
    pub(crate) name: &'static str,
    /// The rule that must find it.
    pub(crate) rule: &'static str,
    /// Rules that may speak too: what the fault brings with it.
    pub(crate) also: &'static [&'static str],
    pub(crate) apply: fn(&Clean, &Guide<'_>) -> Vec<Broken>,
}

const fn fault(
    name: &'static str,
    rule: &'static str,
    also: &'static [&'static str],
    apply: fn(&Clean, &Guide<'_>) -> Vec<Broken>,
) -> Fault {
    Fault { name, rule, also, apply }
}

#[rustfmt::skip]
pub(crate) const FAULTS: &[Fault] = &[
    // values and units
    fault("foot-pounds written as inch-pounds", "dual-disagree", &["torque-doubtful", "torque-over-proof", "tool-missing", "wrench-out-of-range", "tool-unused", "value-stray"], values::foot_for_inch),
    fault("a decimal place slips", "dual-disagree", &[], values::decimal_place),
    fault("a unit is misspelt", "unit-unknown", &[], values::misspelt_unit),
    fault("a torque in bare pounds", "unit-ambiguous", &[], values::bare_pounds),
    fault("the ends of a range change places", "range-reversed", &[], values::reversed),
    fault("a digit is mistyped", "value-unreadable", &[], values::unreadable),
    fault("the other system leads", "unit-mixed", &[], values::other_system_leads),
    fault("a value is typed into the words", "value-in-prose", &["wait-disagrees"], values::typed),
    fault("another torque is typed into the words", "value-stray", &["value-in-prose"], values::stray),
    // tightening
    fault("a torque is left out", "torque-missing", &["torque-missing", "tool-missing", "tool-unused"], values::no_torque),
    fault("the torque of another bolt", "torque-for-other", &["pattern-invalid", "pattern-missing", "wrench-out-of-range", "value-stray", "tool-missing", "dual-disagree"], values::other_torque),
    fault("the words give another torque", "value-stray", &[], values::other_reference),
    fault("a torque has no source", "torque-unsourced", &["source-missing"], values::no_source),
    fault("tight by feel", "torque-vague", &[], values::vague),
    fault("a one-use bolt goes back on", "one-use-refitted", &["one-use-refitted"], ledger::one_use),
    fault("a spec of another kind as a torque", "type-wrong", &["torque-missing", "tool-unused", "tool-missing", "value-stray", "pattern-missing", "source-missing"], joints::no_torque_at_all),
    fault("a torque twelve times too high", "torque-over-proof", &["tool-missing", "wrench-out-of-range", "unit-mixed", "tool-unused"], joints::ten_times),
    fault("a torque of a hundredth", "torque-doubtful", &["tool-missing", "wrench-out-of-range", "unit-mixed", "tool-unused"], joints::a_hundredth),
    fault("two turns after a torque", "angle-doubtful", &["angle-reuse-untold", "stages-not-rising", "tool-missing", "wrench-out-of-range", "unit-mixed", "tool-unused", "torque-doubtful"], engineering::turns_too_many),
    fault("a turn after a torque at proof", "angle-doubtful", &["angle-reuse-untold", "stages-not-rising", "tool-missing", "wrench-out-of-range", "unit-mixed", "tool-unused"], engineering::turn_at_proof),
    fault("a bolt turned by an angle without a word on its reuse", "angle-reuse-untold", &["stages-not-rising", "tool-missing", "wrench-out-of-range", "unit-mixed", "tool-unused"], engineering::angle_without_reuse),
    fault("the torque of a steel nut in plastic", "thread-not-judged", &[], engineering::strong_torque_into_plastic),
    fault("a torque too high for dry threads too", "torque-doubtful", &["tool-missing", "wrench-out-of-range", "unit-mixed", "tool-unused"], engineering::dry_is_no_excuse),
    fault("the row of another class or size", "torque-doubtful", &["tool-missing", "wrench-out-of-range", "unit-mixed", "tool-unused"], engineering::row_of_a_neighbour),
    fault("a pipe, gland or tapping thread that does not exist", "thread-unknown", &[], engineering::no_pipe_thread),
    fault("a thread that does not exist", "thread-unknown", &[], joints::odd_thread),
    fault("a class of the other system", "class-unknown", &["torque-doubtful", "torque-over-proof"], joints::class_of_other_system),
    fault("a class that does not exist", "class-unknown", &["torque-doubtful"], joints::no_class),
    fault("a drive too large for its thread", "drive-doubtful", &["tool-missing", "tool-unused", "tool-unfit"], joints::odd_drive),
    fault("a wrench that does not reach", "wrench-out-of-range", &["adapter-uncorrected", "tool-unused", "drive-doubtful"], joints::small_wrench),
    fault("an adapter without its angle", "adapter-uncorrected", &[], joints::no_angle),
    fault("passes without an order", "pattern-missing", &[], joints::no_pattern),
    fault("round and round", "pattern-invalid", &[], joints::round_and_round),
    fault("falling passes", "stages-not-rising", &["stages-not-rising"], joints::falling_passes),
    fault("a paper that is not listed", "id-unknown", &[], joints::other_paper),
    // wiring
    fault("a calibration that is over", "calibration-ended", &[], joints::calibration_over),
    fault("a cavity used twice", "pin-twice", &["pin-gap", "pin-twice"], joints::pin_twice),
    fault("a cavity left out", "pin-gap", &[], joints::pin_left_out),
    fault("a maker's letters for a colour", "wire-colour-unknown", &[], joints::makers_colour),
    fault("a conductor without its unit", "wire-unknown", &[], joints::bare_section),
    fault("a fuse too large for the wire", "fuse-over-wire", &["fuse-rating-unknown"], joints::large_fuse),
    fault("a wire that carries too much", "wire-overloaded", &["drop-too-large", "fuse-too-small", "fuse-unknown"], engineering::overloaded_wire),
    fault("a fuse no larger than its load", "fuse-too-small", &["fuse-rating-unknown"], engineering::fuse_no_larger_than_its_load),
    fault("a fuse of a rating that is not made", "fuse-rating-unknown", &["fuse-over-wire", "fuse-too-small"], engineering::fuse_of_no_rating),
    fault("a fuse of another colour in the words", "fuse-colour-wrong", &["value-in-prose", "value-stray", "looks-contradict"], engineering::wrong_fuse_colour),
    fault("a mains circuit without a caution", "mains-uncovered", &["fuse-unknown", "drop-too-large"], engineering::mains_without_a_caution),
    fault("a circuit without a fuse", "fuse-unknown", &[], joints::no_fuse),
    fault("a wire too long for its current", "drop-too-large", &[], joints::long_wire),
    // what is opened is closed
    fault("a new plug never plugged in", "left-open", &["operation-untold", "out-of-order", "kit-left-over"], joints::never_plugged_in),
    fault("a closing operation is left out", "left-open",
        &["not-isolated", "not-raised", "not-released", "drilled-blind", "run-too-early", "fuse-early", "still-capped", "value-stray", "hardware-short", "hardware-left-over", "kit-left-over", "operation-untold", "count-disagrees", "out-of-order", "tool-unused", "torque-missing", "tool-missing"], ledger::not_closed),
    fault("an opening operation is left out", "closed-not-open",
        &["not-isolated", "not-raised", "not-released", "drilled-blind", "run-too-early", "fuse-early", "still-capped", "left-open", "hardware-short", "kit-overdrawn", "operation-untold", "count-disagrees", "out-of-order", "tool-unused", "tool-missing"], ledger::not_opened),
    fault("a thing is opened twice", "opened-twice", &["hardware-short", "hardware-left-over", "left-open", "tool-missing"], ledger::opened_twice),
    fault("closed only with an option", "left-open", &["not-isolated", "not-raised", "not-released", "drilled-blind", "run-too-early", "fuse-early", "still-capped", "hardware-short", "hardware-left-over", "kit-left-over", "out-of-order", "left-open"], ledger::closed_with_option),
    fault("opened only with an option", "closed-not-open", &["not-isolated", "not-raised", "not-released", "drilled-blind", "run-too-early", "fuse-early", "still-capped", "left-open", "hardware-short", "kit-overdrawn", "out-of-order"], ledger::opened_with_option),
    fault("one too many comes off", "hardware-short", &["hardware-left-over", "count-disagrees"], ledger::one_off_too_many),
    fault("one too few goes back on", "hardware-left-over", &["count-disagrees", "torque-missing", "hardware-short", "left-open"], ledger::one_back_too_few),
    fault("one kit bolt too few is fitted", "kit-left-over", &["count-disagrees", "hardware-short", "pattern-invalid"], ledger::one_kit_too_few),
    fault("one kit bolt too many is fitted", "kit-overdrawn", &["count-disagrees", "left-open", "pattern-invalid", "pattern-missing"], ledger::one_kit_too_many),
    fault("the kit lists one more", "kit-left-over", &[], ledger::one_more_supplied),
    fault("the kit lists one fewer", "kit-overdrawn", &[], ledger::one_fewer_supplied),
    fault("the vehicle has one fewer", "hardware-short", &["hardware-short"], ledger::one_fewer_on_vehicle),
    fault("a part is never fitted", "part-never-fitted",
        &["not-isolated", "not-raised", "not-released", "drilled-blind", "run-too-early", "fuse-early", "still-capped", "value-stray", "hardware-short", "kit-left-over", "operation-untold", "count-disagrees", "hardware-left-over", "left-open", "tool-unused", "torque-missing", "tool-missing"], ledger::part_forgotten),
    fault("a thing is thrown away and fitted", "fitted-but-absent", &[], ledger::thrown_away),
    fault("a step needs a later one", "out-of-order", &[], ledger::needs_later),
    fault("something fitted is in the way", "out-of-order", &["out-of-order"], ledger::in_the_way),
    fault("one bolt stays hand-tight", "left-open", &["count-disagrees"], ledger::one_left_loose),
    fault("an operation does not heed its option", "fitted-but-absent", &["fitted-but-absent"], ledger::without_its_option),
    // people
    fault("the cautions of a step are dropped", "caution-missing", &["caution-late", "licensed-work", "value-stray"], people::cautions_dropped),
    fault("a caution slips into the next step", "caution-late", &["licensed-work", "caution-missing"], people::caution_slips),
    fault("a caution does not say what happens", "caution-incomplete", &[], people::no_result),
    fault("a caution does not say what to do", "caution-incomplete", &["licensed-work"], people::no_avoid),
    fault("an injury under NOTICE", "signal-misused", &[], people::notice_for_injury),
    fault("damage under WARNING", "signal-misused", &[], people::warning_for_damage),
    // the document
    fault("a paragraph as the title", "over-limit", &[], document::paragraph_as_title),
    fault("no revision", "revision-missing", &[], document::no_revision),
    fault("no vehicles", "fits-missing", &[], document::no_vehicles),
    fault("no final checks", "final-check-missing", &[], document::no_final_check),
    fault("the hours are three times too many", "hours-disagree", &[], document::wrong_hours),
    fault("a tool is not listed", "tool-missing", &["tool-missing"], document::tool_not_listed),
    fault("a tool is listed for nothing", "tool-unused", &[], document::tool_for_nothing),
    fault("an id is misspelt", "id-unknown",
        &["pattern-invalid", "left-open", "closed-not-open", "kit-left-over", "part-never-fitted", "hardware-left-over", "hardware-short", "operation-untold", "count-disagrees", "tool-unused", "torque-missing", "tool-missing", "value-stray", "out-of-order", "licensed-work"], document::misspelt_id),
    fault("an id is given twice", "id-twice", &["not-isolated", "not-raised", "not-released", "drilled-blind", "run-too-early", "fuse-early", "still-capped"], document::id_twice),
    fault("a key is misspelt", "key-unknown", &["hours-disagree"], document::misspelt_key),
    fault("an acceptance of nothing", "acceptance-unused", &[], document::acceptance_of_nothing),
    fault("an acceptance of an unknown rule", "acceptance-unused", &[], document::acceptance_unknown),
    fault("a picture without words", "photo-without-words", &[], document::no_words),
    fault("a picture that is not there", "photo-missing", &["callout-without-picture"], document::no_picture),
    fault("a callout beside its picture", "callout-outside", &[], document::callout_beside),
    fault("a callout of a picture that is not shown", "callout-without-picture", &[], document::callout_of_another_picture),
    fault("a callout copied and not moved", "callout-twice", &[], document::callout_copied),
    fault("a link to no step", "link-broken", &[], document::link_to_nothing),
    fault("a condition that cannot hold", "option-impossible", &["not-isolated", "not-raised", "not-released", "drilled-blind", "run-too-early", "fuse-early", "still-capped", "hours-disagree", "opened-twice", "hardware-left-over", "kit-left-over", "left-open", "closed-not-open", "part-never-fitted", "hardware-short", "out-of-order"], document::impossible),
    fault("an option for nothing", "option-unused", &[], document::option_for_nothing),
    fault("an operation on nothing", "key-missing", &["not-isolated", "not-raised", "not-released", "drilled-blind", "run-too-early", "fuse-early", "still-capped", "opened-twice", "left-open", "closed-not-open", "kit-left-over", "hardware-left-over", "part-never-fitted", "hardware-short", "kit-overdrawn", "operation-untold", "out-of-order", "count-disagrees", "torque-missing", "tool-missing", "tool-unused"], document::on_nothing),
    fault("a negative count", "type-wrong", &[], document::negative_count),
    // wording
    fault("two actions in one sentence", "two-actions", &["long-sentence"], wording::two_actions),
    fault("a sentence without end", "long-sentence", &[], wording::long_sentence),
    fault("told in the passive", "not-imperative", &[], wording::passive),
    fault("the condition comes last", "condition-after", &[], wording::condition_last),
    fault("vague words", "vague-wording", &[], wording::vague),
    fault("an instruction in a note", "instruction-in-note", &[], wording::in_a_note),
    fault("a caution in the words", "caution-in-words", &[], wording::caution_in_words),
    fault("the words count otherwise", "count-disagrees", &[], wording::other_count),
    fault("the words tell what the facts do not", "operation-untold", &["tool-unused"], wording::untold),
];
