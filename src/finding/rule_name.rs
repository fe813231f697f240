//! The names of all rules: the one list of them. From it come the enum, and the registry of the review.

use std::fmt;

/// Hands the list of rules to the macro `$then`: by family (its folder), the rule's file, its variant, its name.
macro_rules! every_rule {
    ($then:path) => {
        $then! {
            values: {
                unit_unknown UnitUnknown "unit-unknown",
                unit_ambiguous UnitAmbiguous "unit-ambiguous",
                value_unreadable ValueUnreadable "value-unreadable",
                range_reversed RangeReversed "range-reversed",
                dual_disagree DualDisagree "dual-disagree",
                unit_mixed UnitMixed "unit-mixed",
                value_in_prose ValueInProse "value-in-prose",
                value_stray ValueStray "value-stray",
                wait_disagrees WaitDisagrees "wait-disagrees",
                reference_elsewhere ReferenceElsewhere "reference-elsewhere",
            }
            tightening: {
                torque_missing TorqueMissing "torque-missing",
                torque_unsourced TorqueUnsourced "torque-unsourced",
                torque_vague TorqueVague "torque-vague",
                torque_for_other TorqueForOther "torque-for-other",
                torque_over_proof TorqueOverProof "torque-over-proof",
                torque_doubtful TorqueDoubtful "torque-doubtful",
                thread_not_judged ThreadNotJudged "thread-not-judged",
                angle_doubtful AngleDoubtful "angle-doubtful",
                angle_reuse_untold AngleReuseUntold "angle-reuse-untold",
                thread_unknown ThreadUnknown "thread-unknown",
                class_unknown ClassUnknown "class-unknown",
                drive_doubtful DriveDoubtful "drive-doubtful",
                wrench_out_of_range WrenchOutOfRange "wrench-out-of-range",
                calibration_ended CalibrationEnded "calibration-ended",
                adapter_uncorrected AdapterUncorrected "adapter-uncorrected",
                pattern_missing PatternMissing "pattern-missing",
                pattern_invalid PatternInvalid "pattern-invalid",
                stages_not_rising StagesNotRising "stages-not-rising",
                one_use_refitted OneUseRefitted "one-use-refitted",
                tool_unfit ToolUnfit "tool-unfit",
                order_contradicts OrderContradicts "order-contradicts",
                by_hand_contradicts ByHandContradicts "by-hand-contradicts",
            }
            ledger: {
                left_open LeftOpen "left-open",
                closed_not_open ClosedNotOpen "closed-not-open",
                opened_twice OpenedTwice "opened-twice",
                fitted_but_absent FittedButAbsent "fitted-but-absent",
                out_of_order OutOfOrder "out-of-order",
                hardware_short HardwareShort "hardware-short",
                hardware_left_over HardwareLeftOver "hardware-left-over",
                kit_left_over KitLeftOver "kit-left-over",
                kit_overdrawn KitOverdrawn "kit-overdrawn",
                part_never_fitted PartNeverFitted "part-never-fitted",
                count_untold CountUntold "count-untold",
                combinations_untried CombinationsUntried "combinations-untried",
            }
            people: {
                caution_missing CautionMissing "caution-missing",
                caution_late CautionLate "caution-late",
                caution_incomplete CautionIncomplete "caution-incomplete",
                never_lost NeverLost "never-lost",
                signal_misused SignalMisused "signal-misused",
                licensed_work LicensedWork "licensed-work",
                mains_uncovered MainsUncovered "mains-uncovered",
                drilled_blind DrilledBlind "drilled-blind",
                fuse_early FuseEarly "fuse-early",
                not_isolated NotIsolated "not-isolated",
                not_raised NotRaised "not-raised",
                not_released NotReleased "not-released",
                state_forbids StateForbids "state-forbids",
                run_too_early RunTooEarly "run-too-early",
                still_capped StillCapped "still-capped",
            }
            wording: {
                words_unread WordsUnread "words-unread",
                two_actions TwoActions "two-actions",
                long_sentence LongSentence "long-sentence",
                not_imperative NotImperative "not-imperative",
                condition_after ConditionAfter "condition-after",
                vague_wording VagueWording "vague-wording",
                instruction_in_note InstructionInNote "instruction-in-note",
                caution_in_words CautionInWords "caution-in-words",
                count_disagrees CountDisagrees "count-disagrees",
                operation_untold OperationUntold "operation-untold",
                told_out_of_order ToldOutOfOrder "told-out-of-order",
                side_contradicts SideContradicts "side-contradicts",
                link_to_other LinkToOther "link-to-other",
                old_for_new OldForNew "old-for-new",
                fate_contradicts FateContradicts "fate-contradicts",
                looks_contradict LooksContradict "looks-contradict",
                sentence_cut SentenceCut "sentence-cut",
            }
            wiring: {
                pin_twice PinTwice "pin-twice",
                pin_gap PinGap "pin-gap",
                pin_contradicts PinContradicts "pin-contradicts",
                side_untold SideUntold "side-untold",
                wire_colour_unknown WireColourUnknown "wire-colour-unknown",
                wire_unknown WireUnknown "wire-unknown",
                fuse_over_wire FuseOverWire "fuse-over-wire",
                fuse_unknown FuseUnknown "fuse-unknown",
                fuse_too_small FuseTooSmall "fuse-too-small",
                fuse_rating_unknown FuseRatingUnknown "fuse-rating-unknown",
                fuse_colour_wrong FuseColourWrong "fuse-colour-wrong",
                wire_overloaded WireOverloaded "wire-overloaded",
                drop_too_large DropTooLarge "drop-too-large",
                circuit_impossible CircuitImpossible "circuit-impossible",
                wire_limit_wrong WireLimitWrong "wire-limit-wrong",
            }
            document: {
                fact_untold FactUntold "fact-untold",
                fact_unsure FactUnsure "fact-unsure",
                heard_unsure HeardUnsure "heard-unsure",
                told_elsewhere ToldElsewhere "told-elsewhere",
                source_missing SourceMissing "source-missing",
                revision_missing RevisionMissing "revision-missing",
                revision_contradicts RevisionContradicts "revision-contradicts",
                departure_unapproved DepartureUnapproved "departure-unapproved",
                approval_missing ApprovalMissing "approval-missing",
                revision_not_raised RevisionNotRaised "revision-not-raised",
                change_untold ChangeUntold "change-untold",
                issued_damaged IssuedDamaged "issued-damaged",
                document_twice DocumentTwice "document-twice",
                old_name_taken OldNameTaken "old-name-taken",
                fits_missing FitsMissing "fits-missing",
                steps_missing StepsMissing "steps-missing",
                heading_twice HeadingTwice "heading-twice",
                reference_nowhere ReferenceNowhere "reference-nowhere",
                left_for_later LeftForLater "left-for-later",
                hours_disagree HoursDisagree "hours-disagree",
                final_check_missing FinalCheckMissing "final-check-missing",
                tool_missing ToolMissing "tool-missing",
                tool_unused ToolUnused "tool-unused",
                consumable_unused ConsumableUnused "consumable-unused",
                tool_in_words ToolInWords "tool-in-words",
                designation_differs DesignationDiffers "designation-differs",
                option_excluded OptionExcluded "option-excluded",
                photo_missing PhotoMissing "photo-missing",
                photo_unreadable PhotoUnreadable "photo-unreadable",
                photo_without_words PhotoWithoutWords "photo-without-words",
                photo_too_small PhotoTooSmall "photo-too-small",
                callout_outside CalloutOutside "callout-outside",
                callout_without_picture CalloutWithoutPicture "callout-without-picture",
                callout_twice CalloutTwice "callout-twice",
                drawing_unsafe DrawingUnsafe "drawing-unsafe",
                drawing_cleaned DrawingCleaned "drawing-cleaned",
                link_broken LinkBroken "link-broken",
                address_refused AddressRefused "address-refused",
                markup_shown MarkupShown "markup-shown",
                operation_misplaced OperationMisplaced "operation-misplaced",
                rule_unknown RuleUnknown "rule-unknown",
                option_impossible OptionImpossible "option-impossible",
                option_unused OptionUnused "option-unused",
                id_unknown IdUnknown "id-unknown",
                id_twice IdTwice "id-twice",
                slug_twice SlugTwice "slug-twice",
                key_unknown KeyUnknown "key-unknown",
                key_missing KeyMissing "key-missing",
                type_wrong TypeWrong "type-wrong",
                block_unreadable BlockUnreadable "block-unreadable",
                text_unreadable TextUnreadable "text-unreadable",
                over_limit OverLimit "over-limit",
                acceptance_unused AcceptanceUnused "acceptance-unused",
            }
        }
    };
}
pub(crate) use every_rule;

macro_rules! names {
    ($($family:ident: { $($file:ident $rule:ident $name:literal,)* })*) => {
        /// The name of a rule. It stands in acceptances and shop files of shops, so it is changed only with an entry in the list of former names.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum RuleName {
            $($(
                #[doc = concat!("`", $name, "`.")]
                $rule,
            )*)*
        }

        impl RuleName {
            /// Every name in use, in the order of the handbook.
            pub const ALL: &[RuleName] = &[$($(RuleName::$rule,)*)*];

            /// The name as it is written: words with hyphens.
            pub const fn name(self) -> &'static str {
                match self {
                    $($(RuleName::$rule => $name,)*)*
                }
            }
        }
    };
}

every_rule!(names);

/// Names that rules no longer have: what was written once must still be understood.
const FORMER: &[(&str, Former)] = &[
    // The program has not renamed or retired a rule yet; these two are for the tests.
    #[cfg(test)]
    ("torque-absent", Former::Renamed(RuleName::TorqueMissing)),
    #[cfg(test)]
    ("torque-odd", Former::Retired("torque-doubtful and torque-over-proof say it better")),
];

/// What became of a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Former {
    /// The rule has another name now.
    Renamed(RuleName),
    /// There is no such rule any more, for this reason.
    Retired(&'static str),
}

/// What a written name stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// A rule of this name.
    Current(RuleName),
    /// A name that was a rule's once.
    Former(Former),
    /// No rule's name.
    Never,
}

impl RuleName {
    /// What `word` stands for.
    pub fn known(word: &str) -> Known {
        if let Some(name) = Self::ALL.iter().find(|name| name.name() == word) {
            return Known::Current(*name);
        }
        FORMER.iter().find(|(former, _)| *former == word).map_or(Known::Never, |(_, became)| Known::Former(*became))
    }

    /// The rule that `word` means, under the name it has now or under an old one.
    pub fn meant(word: &str) -> Option<RuleName> {
        match Self::known(word) {
            Known::Current(name) | Known::Former(Former::Renamed(name)) => Some(name),
            Known::Former(Former::Retired(_)) | Known::Never => None,
        }
    }
}

/// By the alphabet: reports sort by it, and it stays when rules are added.
impl Ord for RuleName {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.name().cmp(other.name())
    }
}

impl PartialOrd for RuleName {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl fmt::Display for RuleName {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.pad(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_words_with_hyphens_and_stand_once() {
        let mut seen = std::collections::BTreeSet::new();
        for name in RuleName::ALL {
            assert!(name.name().chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{name}");
            assert!(seen.insert(name.name()), "{name} stands twice");
            let variant: String =
                format!("{name:?}").chars().flat_map(|c| c.is_uppercase().then_some('-').into_iter().chain([c])).collect();
            assert_eq!(variant.to_lowercase().trim_start_matches('-'), name.name());
        }
        for (former, became) in FORMER {
            assert!(seen.insert(former), "{former} is in use again");
            assert!(!matches!(became, Former::Retired(why) if why.is_empty()), "{former}");
        }
    }

    #[test]
    fn a_former_name_is_understood() {
        assert_eq!(RuleName::known("torque-missing"), Known::Current(RuleName::TorqueMissing));
        assert_eq!(RuleName::meant("torque-absent"), Some(RuleName::TorqueMissing));
        assert!(matches!(RuleName::known("torque-odd"), Known::Former(Former::Retired(_))));
        assert_eq!((RuleName::known("torque"), RuleName::meant("torque")), (Known::Never, None));
    }
}
