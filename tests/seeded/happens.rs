//! Faults of what happens in a real job beside taking off and putting on, each put into one clean guide by changing its text, with the
//! rule that must find it and the text that is marked. Beside them stand near misses, which must stay silent. What is right here is
//! common practice of the trade.

use bayleaf::guide;
use bayleaf::guide::picture::Pictures;
use bayleaf::review;
use bayleaf::source::{FileId, SourceFile};

const SHOP: &str = include_str!("../../src/review/rules/example_shop.toml");
const GUIDE: &str = include_str!("happens.md");

/// What is changed: each text stands once in the guide.
type Edits = &'static [(&'static str, &'static str)];

fn guide_of(edits: Edits) -> String {
    edits.iter().fold(GUIDE.to_owned(), |text, (from, to)| {
        assert_eq!(text.matches(from).count(), 1, "{from}");
        text.replacen(from, to, 1)
    })
}

/// What the review finds: the rule and the text that is marked.
fn found(edits: Edits) -> Vec<(&'static str, String)> {
    let (shop, _) = guide::read_shop(&SourceFile::new("guides/shop.toml", SHOP), FileId(0));
    let source = SourceFile::new("guides/a.md", guide_of(edits));
    let (read, findings) = guide::read(&source, FileId(1), "a", &shop);
    let outcome = review::review(&read, &shop, &Pictures::new(), &|_| false, findings);
    let told = outcome.findings.into_iter().map(|finding| {
        let span = finding.place.span;
        (finding.rule.name(), source.text[span.range()].trim_matches('"').to_owned())
    });
    told.collect()
}

/// Rule, changes, and what is marked.
type Fault = (&'static str, Edits, &'static str);

const FAULTS: &[Fault] = &[
    // A caution that stands for a run of steps.
    ("caution-missing", &[("\"airbag until seat-in\"]", "\"airbag\"]")], "airbag-plug"),
    ("caution-missing", &[("\"airbag until seat-in\"]", "\"airbag until seat-out\"]")], "seat"),
    ("caution-missing", &[("covers = [\"restraint\"]", "covers = [\"restraint\"]\nwhen = \"tow-pack\"")], "airbag-plug"),
    (
        "type-wrong",
        &[
            ("\"airbag until seat-in\"]", "\"airbag until unplug\"]"),
            ("do = [\"disconnect: airbag-plug\"]", "cautions = [\"airbag until seat-in\"]\ndo = [\"disconnect: airbag-plug\"]"),
        ],
        "unplug",
    ),
    (
        "id-unknown",
        &[
            ("\"airbag until seat-in\"]", "\"airbag until seat-inn\"]"),
            ("do = [\"disconnect: airbag-plug\"]", "cautions = [\"airbag until seat-in\"]\ndo = [\"disconnect: airbag-plug\"]"),
        ],
        "seat-inn",
    ),
    // Departures.
    (
        "departure-unapproved",
        &[("approved = \"Shop foreman\"\nsource = \"sheet (step 4)\"", "source = \"sheet (step 4)\"")],
        "The seat goes on before the base is tight",
    ),
    (
        "departure-unapproved",
        &[(
            "do = [\"remove: seat\"]",
            "do = [\"remove: seat\"]\n\n[[departure]]\nsays = \"Take the seat out alone\"\ndoes = \"Two people lift it\"\nwhy = \"it is heavy\"",
        )],
        "Two people lift it",
    ),
    (
        "departure-unapproved",
        &[(
            "[[departure]]",
            "[[departure]]\nsays = \"Wipe the rails dry\"\ndoes = \"The rails are greased\"\nwhy = \"they seize otherwise\"\n\n[[departure]]",
        )],
        "The rails are greased",
    ),
    ("key-missing", &[("why = \"the rails pull the base into its place\"\n", "")], "[[departure]]"),
    ("id-unknown", &[("source = \"sheet (step 4)\"", "source = \"shet (step 4)\"")], "shet"),
];

/// Rule, and changes that it must not tell.
const NEAR: &[(&str, Edits)] = &[
    ("caution-missing", &[("\"airbag until seat-in\"]", "\"airbag until check\"]")]),
    ("caution-missing", &[("do = [\"disconnect: airbag-plug\"]", "cautions = [\"airbag\"]\ndo = [\"disconnect: airbag-plug\"]")]),
    (
        "caution-missing",
        &[("\"airbag until seat-in\"]", "\"airbag\"]"), ("covers = [\"restraint\"]", "covers = [\"restraint\"]\nuntil = \"seat-in\"")],
    ),
    (
        "departure-unapproved",
        &[(
            "approved = \"Shop foreman\"\nsource = \"sheet (step 4)\"",
            "approved = \"The customer, in writing\"\nsource = \"the sheet of the old kit\"",
        )],
    ),
    (
        "departure-unapproved",
        &[(
            "[[departure]]",
            "[[departure]]\nsays = \"Wipe the rails dry\"\ndoes = \"The rails are greased\"\nwhy = \"they seize otherwise\"\napproved = \"Inspector\"\n\n[[departure]]",
        )],
    ),
];

#[test]
fn the_guide_is_clean() {
    assert_eq!(found(&[]), []);
}

#[test]
fn every_fault_is_found_at_its_place_and_nothing_else() {
    let mut wrong = Vec::new();
    for (rule, edits, marked) in FAULTS {
        let found = found(edits);
        if found.len() != 1 || found[0].0 != *rule || !(found[0].1 == *marked || found[0].1.starts_with(marked)) {
            wrong.push(format!("{rule} at `{marked}`: {found:?}\n    {edits:?}"));
        }
    }
    println!("{} faults, {} near misses", FAULTS.len(), NEAR.len());
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), FAULTS.len(), wrong.join("\n"));
}

#[test]
fn near_misses_stay_silent() {
    let wrong: Vec<String> = NEAR
        .iter()
        .map(|(rule, edits)| (rule, found(edits)))
        .filter(|(_, found)| !found.is_empty())
        .map(|one| format!("{one:?}"))
        .collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), NEAR.len(), wrong.join("\n"));
}

/// Missing cautions of one kind are one finding that names every place.
#[test]
fn what_is_missing_for_one_reason_is_told_once() {
    let (shop, _) = guide::read_shop(&SourceFile::new("guides/shop.toml", SHOP), FileId(0));
    let source = SourceFile::new("guides/a.md", guide_of(&[("\"airbag until seat-in\"]", "\"airbag\"]")]));
    let (read, findings) = guide::read(&source, FileId(1), "a", &shop);
    let outcome = review::review(&read, &shop, &Pictures::new(), &|_| false, findings);
    let [only] = outcome.findings.as_slice() else { panic!("{:?}", outcome.findings) };
    assert!(only.message.ends_with("nor in 2 more places"), "{}", only.message);
    assert!(only.remedy.contains("airbag until seat-in"), "{}", only.remedy);
    let places: Vec<&str> = only.related.iter().map(|related| &source.text[related.place.span.range()]).collect();
    assert_eq!(places, ["seat", "seat"]);
}
