//! Words of the trade that several rules look for, and how words are counted. Taking text apart is left to
//! `sentences`, what is wrong with it to the rules.

use std::sync::LazyLock;

use foldhash::HashSet;

use super::sentences::{Sentence, Sort};
use crate::quantity;

/// Words for tightening, as they stand in instructions.
pub(crate) const TIGHTENING: &[&str] = &["tighten", "torque", "do up", "nip up", "screw down", "screw in", "bolt down", "bolt up"];

/// Words that say how tight without a value.
pub(crate) const TIGHT_BY_FEEL: &[&str] = &[
    "securely",
    "firmly",
    "good and tight",
    "nice and tight",
    "well",
    "fully",
    "properly",
    "snug",
    "snugly",
    "as tight as",
    "until tight",
    "sufficiently",
    "adequately",
    "hard",
    "as required",
    "a good pull",
    "good pull",
];

/// Where `word` stands in `text` as whole words.
pub(crate) fn find_word(text: &str, word: &str) -> Option<usize> {
    // Most texts are a few words long, and most words are not in them.
    memchr::memmem::find_iter(text.as_bytes(), word.as_bytes()).find(|&at| {
        let before = text[..at].chars().next_back().is_none_or(|c| !c.is_alphanumeric());
        let after = text[at + word.len()..].chars().next().is_none_or(|c| !c.is_alphanumeric());
        before && after
    })
}

/// Whether a sentence in lower case is about tightening.
pub(crate) fn is_about_tightening(folded: &str) -> bool {
    TIGHTENING.iter().any(|word| find_word(folded, word).is_some())
}

/// Base forms of the verbs that instructions of the trade begin with, sorted.
#[rustfmt::skip]
const VERBS: &[&str] = &[
    "add", "adjust", "align", "allow", "apply", "arrange", "ask", "assemble", "attach", "avoid", "balance", "bed", "bend", "bleed",
    "blow", "bolt", "bond", "break", "bridge", "bring", "brush", "bundle", "calibrate", "cap", "carry", "center", "centre", "change",
    "charge", "check", "choose", "clamp", "clean", "clear", "clip", "close", "coat", "code", "collect", "compare", "compress", "confirm",
    "connect", "continue", "cool", "count", "cover", "crank", "crimp", "cure", "cut", "dab", "deburr", "degas", "degrease", "depress",
    "detach", "dip", "disassemble", "discard", "disconnect", "disengage", "dismantle", "dispose", "dissolve", "do", "drain", "draw",
    "drill", "drive", "drop", "dry", "earth", "ease", "empty", "enclose", "engage", "enlarge", "ensure", "enter", "erase", "examine",
    "expand", "expose", "extend", "extract", "fasten", "feed", "fetch", "file", "fill", "find", "finish", "fit", "fix", "flatten", "fold",
    "follow", "force", "free", "gather", "get", "give", "glue", "go", "grease", "grind", "grip", "ground", "guard", "guide", "hammer",
    "hand", "hang", "heat", "hoist", "hold", "hook", "identify", "idle", "immobilise", "inflate", "inform", "insert", "inspect",
    "install", "insulate", "interlock", "invert", "isolate", "jack", "join", "keep", "knock", "label", "lash", "lay", "lead", "lean",
    "leave", "let", "level", "lever", "lift", "line", "listen", "load", "locate", "lock", "look", "loop", "loosen", "lower", "lubricate",
    "make", "mark", "mask", "match", "measure", "mix", "mount", "move", "nip", "note", "observe", "obtain", "oil", "open", "pad", "paint",
    "park", "pass", "paste", "peel", "perform", "pick", "pierce", "pin", "place", "plane", "plug", "polish", "position", "pour", "press",
    "prevent", "prime", "prise", "program", "prop", "protect", "pry", "pull", "pump", "punch", "purge", "push", "put", "raise", "reach",
    "read", "ream", "reassemble", "recharge", "reconnect", "record", "recover", "redo", "reduce", "refasten", "refill", "refit",
    "release", "relieve", "remount", "remove", "renew", "repair", "repeat", "replace", "replug", "report", "reposition", "reroute",
    "reseal", "reset", "rest", "retain", "retighten", "retorque", "return", "reuse", "rinse", "rivet", "rock", "roll", "rotate", "route",
    "rub", "run", "sand", "saw", "scrape", "screw", "scribe", "seal", "seat", "secure", "select", "send", "separate", "set", "shake",
    "shield", "shift", "shine", "shorten", "show", "shut", "sign", "sit", "skip", "slacken", "sleeve", "slide", "slip", "slit", "slot",
    "smear", "smooth", "soak", "solder", "sort", "spin", "splice", "split", "spray", "spread", "spring", "squeeze", "squirt", "stack",
    "stand", "start", "stay", "steady", "stick", "stop", "store", "stow", "straighten", "strap", "stretch", "strike", "strip", "support",
    "swap", "sweep", "swing", "switch", "swivel", "take", "tap", "tape", "tell", "test", "thread", "throw", "tie", "tighten", "tilt",
    "tip", "top", "torque", "touch", "trace", "transfer", "trim", "try", "turn", "twist", "unbolt", "uncap", "unclip", "uncover", "undo",
    "unfasten", "unfold", "unhook", "unload", "unlock", "unpack", "unplug", "unroll", "unscrew", "untie", "unwrap", "update", "use",
    "vacuum", "ventilate", "verify", "wait", "walk", "warm", "warn", "wash", "watch", "wear", "wedge", "weigh", "weld", "wind", "wipe",
    "wire", "withdraw", "work", "wrap", "write", "zero",
];

/// Those of them that are nouns or adjectives too, so that a word behind them has to tell, sorted.
#[rustfmt::skip]
const ALSO_NOUNS: &[&str] = &[
    "balance", "bed", "bend", "blow", "bolt", "bond", "break", "bridge", "brush", "bundle", "cap", "change", "charge", "check", "clamp",
    "clean", "clear", "clip", "close", "coat", "code", "cool", "count", "cover", "crank", "cure", "cut", "dip", "drain", "draw", "drill",
    "drive", "drop", "dry", "earth", "ease", "empty", "feed", "file", "fill", "finish", "fit", "fix", "fold", "force", "free", "get",
    "glue", "grease", "grip", "ground", "guard", "guide", "hammer", "hand", "hang", "heat", "hoist", "hold", "hook", "idle", "insert",
    "jack", "join", "label", "lash", "lay", "lead", "level", "lever", "lift", "line", "load", "lock", "look", "loop", "lower", "make",
    "mark", "mask", "match", "measure", "mix", "mount", "move", "note", "oil", "open", "pad", "paint", "park", "pass", "paste", "pin",
    "place", "plane", "plug", "polish", "position", "press", "prime", "prop", "pull", "pump", "punch", "push", "reach", "record",
    "repair", "report", "rest", "return", "rivet", "roll", "route", "run", "sand", "saw", "screw", "seal", "seat", "secure", "set",
    "shake", "shield", "shift", "shine", "sign", "sleeve", "slide", "slip", "slit", "slot", "smooth", "solder", "sort", "spin", "splice",
    "split", "spray", "spread", "spring", "stack", "stand", "start", "steady", "stick", "stop", "store", "strap", "stretch", "strike",
    "strip", "support", "sweep", "swing", "switch", "swivel", "tap", "tape", "test", "thread", "throw", "tie", "tilt", "tip", "top",
    "torque", "touch", "trace", "transfer", "trim", "try", "turn", "twist", "update", "use", "vacuum", "wait", "walk", "warm", "wash",
    "watch", "wear", "wedge", "weld", "wind", "wipe", "wire", "work", "wrap", "zero",
];

/// Their past participles that do not end in `-ed`, sorted.
#[rustfmt::skip]
const IRREGULAR: &[&str] = &[
    "bent", "bled", "blown", "bound", "broken", "brought", "built", "burnt", "cut", "done", "drawn", "driven", "fed", "found", "given",
    "gone", "ground", "held", "hung", "kept", "laid", "led", "left", "let", "lit", "lost", "made", "put", "read", "run", "sent", "set",
    "shaken", "shut", "slid", "slit", "split", "spread", "sprung", "spun", "stood", "struck", "stuck", "swept", "swung", "taken",
    "thrown", "told", "torn", "undone", "unwound", "withdrawn", "worn", "wound", "written",
];

/// Whether a word is the base form of a verb that instructions begin with.
pub(crate) fn is_verb(word: &str) -> bool {
    static SET: LazyLock<HashSet<&str>> = LazyLock::new(|| VERBS.iter().copied().collect());
    SET.contains(word)
}

/// Whether such a verb is a noun or an adjective too.
pub(crate) fn is_also_noun(word: &str) -> bool {
    static SET: LazyLock<HashSet<&str>> = LazyLock::new(|| ALSO_NOUNS.iter().copied().collect());
    SET.contains(word)
}

/// Whether a word is the past participle of such a verb.
pub(crate) fn is_participle(word: &str) -> bool {
    let Some(stem) = word.strip_suffix("ed") else { return IRREGULAR.binary_search(&word).is_ok() };
    let doubled = || {
        let mut ends = stem.chars().rev();
        ends.next().is_some_and(|last| ends.next() == Some(last)) && is_verb(&stem[..stem.len() - 1])
    };
    is_verb(stem)
        || is_verb(&word[..word.len() - 1])
        || doubled()
        || stem.strip_suffix('i').is_some_and(|stem| is_verb(&format!("{stem}y")))
}

/// Articles and words in their place.
pub(crate) fn is_determiner(word: &str) -> bool {
    matches!(
        word,
        "the"
            | "a"
            | "an"
            | "this"
            | "these"
            | "those"
            | "each"
            | "every"
            | "both"
            | "all"
            | "any"
            | "its"
            | "their"
            | "your"
            | "another"
            | "no"
            | "some"
    )
}

/// Pronouns that stand for what is worked on.
pub(crate) fn is_pronoun(word: &str) -> bool {
    matches!(word, "it" | "them" | "everything" | "nothing" | "everybody")
}

/// Words that a verb takes behind it: `off`, `apart`.
pub(crate) fn is_particle(word: &str) -> bool {
    matches!(
        word,
        "off"
            | "out"
            | "up"
            | "down"
            | "in"
            | "on"
            | "away"
            | "back"
            | "apart"
            | "aside"
            | "over"
            | "home"
            | "together"
            | "forward"
            | "forwards"
            | "backwards"
            | "outwards"
            | "inwards"
            | "upwards"
            | "downwards"
            | "sideways"
    )
}

/// Words in front of a place, a tool, a time.
pub(crate) fn is_preposition(word: &str) -> bool {
    matches!(
        word,
        "of" | "to"
            | "from"
            | "with"
            | "without"
            | "by"
            | "for"
            | "at"
            | "into"
            | "onto"
            | "under"
            | "below"
            | "above"
            | "behind"
            | "beside"
            | "between"
            | "through"
            | "against"
            | "along"
            | "around"
            | "until"
            | "till"
            | "before"
            | "after"
            | "while"
            | "towards"
            | "across"
            | "inside"
            | "outside"
            | "near"
            | "during"
            | "past"
            | "via"
            | "per"
            | "in"
            | "on"
            | "over"
            | "as"
            | "using"
            | "within"
    )
}

/// Verbs with a person or number, which no command has.
pub(crate) fn is_finite(word: &str) -> bool {
    matches!(
        word,
        "is" | "are"
            | "was"
            | "were"
            | "has"
            | "have"
            | "must"
            | "should"
            | "shall"
            | "can"
            | "may"
            | "will"
            | "would"
            | "could"
            | "might"
            | "needs"
            | "does"
            | "goes"
            | "go"
            | "lies"
            | "lie"
            | "come"
            | "comes"
            | "stands"
            | "takes"
            | "cannot"
            | "remain"
            | "remains"
    )
}

/// Words that may stand in front of a command.
pub(crate) fn is_lead(word: &str) -> bool {
    matches!(
        word,
        "then"
            | "now"
            | "next"
            | "first"
            | "finally"
            | "again"
            | "also"
            | "please"
            | "afterwards"
            | "thereafter"
            | "here"
            | "always"
            | "and"
            | "but"
            | "only"
            | "second"
            | "third"
            | "otherwise"
            | "just"
            | "simply"
            | "so"
    )
}

/// Words that begin a condition, or the circumstances of a command.
pub(crate) fn opens_condition(word: &str) -> bool {
    matches!(
        word,
        "if" | "when"
            | "whenever"
            | "once"
            | "unless"
            | "before"
            | "after"
            | "until"
            | "till"
            | "while"
            | "where"
            | "wherever"
            | "as"
            | "provided"
            | "should"
            | "in"
            | "for"
            | "with"
            | "without"
            | "on"
            | "at"
            | "to"
            | "from"
            | "by"
            | "using"
            | "during"
            | "because"
            | "since"
            | "under"
            | "depending"
    )
}

/// Words that begin a clause inside a sentence.
pub(crate) fn opens_clause(word: &str) -> bool {
    matches!(
        word,
        "that"
            | "which"
            | "who"
            | "whose"
            | "where"
            | "until"
            | "till"
            | "when"
            | "whenever"
            | "while"
            | "if"
            | "unless"
            | "because"
            | "so"
            | "before"
            | "after"
            | "whether"
            | "how"
            | "once"
            | "than"
            | "since"
    )
}

/// The whole number that a word or digits say.
pub(crate) fn number_of(word: &str) -> Option<u32> {
    match crate::wording::number::whole(word) {
        None if word.len() <= 3 => word.parse().ok(),
        number => number,
    }
}

/// The words of a sentence as plain-language limits count them: text in brackets, a number with its unit, an identifier,
/// a hyphenated word and a reference without words are one each.
pub(crate) fn count_words(sentence: &Sentence<'_>) -> usize {
    let (mut count, mut at) = (0, 0);
    while at < sentence.len() {
        match sentence.sort(at) {
            Some(Sort::Mark) if matches!(sentence.folded(at), "(" | "[") => {
                count += 1;
                at = behind_bracket(sentence, at);
                continue;
            }
            Some(Sort::Number) => {
                count += usize::from(!belongs_to_number_before(sentence, at));
                at += unit_tokens(sentence, at);
            }
            Some(Sort::Word) => {
                // `M8 x 1.25` is one identifier.
                let joiner = matches!(sentence.word(at), "x") && at > 0 && sentence.sort(at + 1) == Some(Sort::Number);
                count += usize::from(!joiner);
            }
            Some(Sort::Reference) => count += 1,
            Some(Sort::Mark) | None => {}
        }
        at += 1;
    }
    count
}

fn behind_bracket(sentence: &Sentence<'_>, open: usize) -> usize {
    let mut depth = 0usize;
    for at in open..sentence.len() {
        match sentence.folded(at) {
            "(" | "[" => depth += 1,
            ")" | "]" => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return at + 1;
        }
    }
    sentence.len()
}

/// Whether a number goes on with the one before it: a tolerance, an angle behind a plus sign, the pitch of a thread.
fn belongs_to_number_before(sentence: &Sentence<'_>, at: usize) -> bool {
    let tolerance = sentence.folded(at).starts_with('±') && at > 0;
    tolerance || (at > 1 && (matches!(sentence.folded(at - 1), "x" | "+" | "×")))
}

/// How many words behind a number are its unit.
pub(crate) fn unit_tokens(sentence: &Sentence<'_>, number: usize) -> usize {
    if sentence.sort(number + 1) != Some(Sort::Word) {
        return 0;
    }
    // `clip 4 in the rail` speaks of no inches.
    if sentence.word(number + 1) == "in" && (sentence.sort(number + 2) == Some(Sort::Word) || sentence.is_object(number + 2)) {
        return 0;
    }
    let is_value = |tokens: usize| {
        let text = sentence.words(number, number + 1 + tokens);
        let options = quantity::Options { decimal_comma: false, default_unit: None };
        quantity::scan(text.trim_start_matches('±'), &options).iter().any(|found| found.range.end == text.trim_start_matches('±').len())
    };
    if sentence.sort(number + 2) == Some(Sort::Word) && is_value(2) && !is_value(1) {
        return 2;
    }
    let ambiguous = matches!(
        sentence.word(number + 1),
        "gal" | "gallon" | "gallons" | "lb" | "lbs" | "pint" | "pints" | "turn" | "turns" | "years" | "months" | "days"
    );
    usize::from(ambiguous || is_value(1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::sentences::Reading;
    use crate::source::{Span, Spanned};

    fn count(text: &str) -> usize {
        let reading = Reading::of_key(&Spanned::new(text.to_owned(), Span::new(0..text.len())));
        reading.sentences().map(|sentence| count_words(&sentence)).sum()
    }

    /// Each number was counted by hand, by the rules named at `count_words`.
    #[test]
    fn words_are_counted_as_by_hand() {
        for (text, by_hand) in [
            ("Torque the four M8 bolts to 25 N·m (18 lbf·ft).", 8),
            ("Stop.", 1),
            ("Undo the nut.", 3),
            // The, low-tack, tape, stays, on, the, bumper-cover.
            ("The low-tack tape stays on the bumper-cover.", 7),
            // Leave, a, gap, of, 2..4 mm, at, both, ends.
            ("Leave a gap of 2..4 mm at both ends.", 8),
            // Use, the, M8 x 1.25, tap, (…).
            ("Use the M8 x 1.25 tap (see the drawing, left side).", 5),
            // Set, the, voltage, to, 14.4 ±0.2 V, now.
            ("Set the voltage to 14.4 ±0.2 V now.", 6),
            // Wait, 3 minutes, and, read, the, gauge.
            ("Wait 3 minutes and read the gauge.", 6),
            // Tighten, it, to, ￼.
            ("Tighten it to \u{fffc}.", 4),
            // Put, clip, 4, in, the, rail.
            ("Put clip 4 in the rail.", 6),
            // Fill, with, 1.5 l, of, oil, and/or, water.
            ("Fill with 1.5 l of oil and/or water.", 7),
            // Wire, pin, 3, of, the, 13-pin, socket, –, the, white, one.
            ("Wire pin 3 of the 13-pin socket – the white one.", 10),
            // Drill, to, 80 %, of, 1/4 in.
            ("Drill to 80 % of 1/4 in.", 5),
            // The, driver's, side, (…), stays, free.
            ("The driver's side (left [of the van]) stays free.", 6),
            // Turn, by, 30 N·m + 90°, once.
            ("Turn by 30 N·m + 90° once.", 4),
            // Two sentences: Lift, it, Lower, it.
            ("Lift it. Lower it.", 4),
        ] {
            assert_eq!(count(text), by_hand, "{text}");
        }
    }

    #[test]
    fn lists_are_sorted_and_agree() {
        for list in [VERBS, ALSO_NOUNS, IRREGULAR] {
            assert!(list.is_sorted_by(|a, b| a < b), "{list:?}");
        }
        for word in ALSO_NOUNS {
            assert!(is_verb(word), "{word}");
        }
    }

    #[test]
    fn participles_are_told_from_other_words() {
        for word in
            ["tightened", "removed", "fitted", "plugged", "applied", "undone", "cut", "torqued", "loosened", "drilled", "dried", "set"]
        {
            assert!(is_participle(word), "{word}");
        }
        for word in ["tight", "red", "bed", "clean", "shed", "tighten", "needed", "tired", "ed"] {
            assert!(!is_participle(word), "{word}");
        }
    }

    #[test]
    fn numbers_are_read_in_words_and_digits() {
        assert_eq!(number_of("four"), Some(4));
        assert_eq!(number_of("twenty"), Some(20));
        assert_eq!(number_of("12"), Some(12));
        assert_eq!(number_of("forty"), Some(40));
        assert_eq!(number_of("twenty-four"), Some(24));
        for word in ["m8", "2.5", "2026", ""] {
            assert_eq!(number_of(word), None, "{word}");
        }
    }
}
