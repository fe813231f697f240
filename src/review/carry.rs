//! Carries an operation from a step's list `do` into the sentence that tells it, where only one sentence can be meant: it names the thing
//! by a reference, its verb fits, and no other sentence and no other operation of the step does as much. What comes after it in the list
//! has to be carried too, since sentences come behind the list.

use crate::guide::model::{Guide, Operation, Step};
use crate::guide::prose::RefKind;
use crate::guide::short;
use crate::guide::verb::Verb;
use crate::review::sentences::{Sentence, Words};
use crate::source::Span;

/// The operations of one step that move, as changes of the text.
#[derive(Clone, Debug)]
pub struct Carried {
    /// How many operations move.
    pub count: usize,
    edits: Vec<(Span, String)>,
}

impl Carried {
    /// The text with the operations moved.
    pub fn apply(&self, text: &str) -> String {
        let mut text = text.to_owned();
        for (span, new) in self.edits.iter().rev() {
            if text.get(span.range()).is_some() {
                text.replace_range(span.range(), new);
            }
        }
        text
    }
}

/// What can move in each step, in the order of the steps.
pub fn carry(guide: &Guide<'_>, text: &str) -> Vec<Carried> {
    // Most guides have nothing to move, and then no word is taken apart.
    if guide.steps.iter().all(|step| step.operations.iter().all(|operation| operation.told)) {
        return Vec::new();
    }
    let words = Words::new(guide);
    guide.steps.iter().enumerate().filter_map(|(at, step)| of_step(step, &words.instructions(at).collect::<Vec<_>>(), text)).collect()
}

/// A reference of a sentence that an operation can take the place of.
#[derive(Clone, Copy)]
struct Place {
    sentence: usize,
    /// The words of the link.
    words: Span,
}

fn of_step(step: &Step<'_>, sentences: &[Sentence<'_>], text: &str) -> Option<Carried> {
    let listed: Vec<&Operation> = step.operations.iter().filter(|operation| !operation.told).collect();
    // One entry that is done in several places is no operation of one sentence.
    if listed.len() != step.operations.len() || listed.is_empty() || listed.iter().any(|operation| operation.place.is_some()) {
        return None;
    }
    let places: Vec<Vec<Place>> = listed
        .iter()
        .map(|operation| sentences.iter().enumerate().filter_map(|(at, sentence)| place(operation, at, sentence)).collect())
        .collect();
    let mut moved: Vec<(usize, Place)> = Vec::new();
    for (at, found) in places.iter().enumerate().rev() {
        let [one] = found.as_slice() else { break };
        let alone = places.iter().flatten().filter(|place| place.sentence == one.sentence).count() == 1;
        if !alone || moved.last().is_some_and(|(_, behind)| behind.sentence <= one.sentence) {
            break;
        }
        moved.push((at, *one));
    }
    let first = moved.last()?.0;
    let mut edits = vec![without(&listed, first, step, text)?];
    for (at, place) in moved.iter().rev() {
        edits.extend(linked(listed[*at], *place, &sentences[place.sentence], text)?);
    }
    edits.sort_by_key(|(span, _)| (span.start, span.end));
    Some(Carried { count: moved.len(), edits })
}

/// Where a sentence tells an operation, if it surely does: a plain command that names one of its things by a reference.
fn place(operation: &Operation, at: usize, sentence: &Sentence<'_>) -> Option<Place> {
    let command = sentence.command().filter(|command| !command.negated && command.condition.is_none())?;
    let references = references(sentence);
    let is_own = |id: &str| {
        let hardware = operation.hardware.iter().map(|count| &count.id);
        hardware.chain(&operation.targets).any(|thing| thing.value == id)
    };
    let own = references
        .iter()
        .find(|(kind, id, _)| matches!(kind, RefKind::Hardware | RefKind::Part | RefKind::Item | RefKind::Connector) && is_own(id))?;
    let torque = matches!(&operation.torque, Some(crate::guide::model::TorqueRef::Spec(id))
        if references.iter().any(|(kind, other, _)| *kind == RefKind::Spec && *other == id.as_str()));
    fits(operation, sentence.word(command.verb), torque).then_some(Place { sentence: at, words: own.2 })
}

/// The references of a sentence, each once: what they refer to, and the place of their words.
fn references<'a>(sentence: &Sentence<'a>) -> Vec<(RefKind, &'a str, Span)> {
    let mut found = Vec::new();
    let mut last = None;
    for at in 0..sentence.len() {
        let link = sentence.link(at);
        if let Some(reference) = sentence.reference(at).filter(|_| link != last) {
            found.push((reference.kind, reference.id.as_str(), sentence.reading.passage.place(reference.range.start, reference.range.end)));
        }
        last = link;
    }
    found
}

/// Whether the verb of a sentence surely says what an operation does. What is done up is tightened to the torque that the sentence names.
fn fits(operation: &Operation, word: &str, torque: bool) -> bool {
    let words: &[&str] = match operation.verb {
        Verb::Remove => &["remove", "undo", "unscrew", "unclip"],
        Verb::Fit if operation.by_hand => &["fit", "start"],
        Verb::Fit if torque => &["fit", "tighten"],
        Verb::Fit => &["fit"],
        Verb::Disconnect => &["disconnect", "unplug", "undo"],
        Verb::Connect if torque => &["connect", "tighten"],
        Verb::Connect => &["connect"],
        Verb::Loosen => &["loosen", "slacken"],
        Verb::Tighten => &["tighten"],
        Verb::Drain => &["drain"],
        Verb::Fill => &["fill"],
        Verb::Cap => &["cap"],
        Verb::Uncap => &["uncap"],
        Verb::Cover => &["cover"],
        Verb::Uncover => &["uncover"],
        Verb::Raise => &["raise"],
        Verb::Lower => &["lower"],
        Verb::Start => &["start"],
        Verb::Stop => &["stop"],
        Verb::Hold => &["hold", "compress"],
        Verb::LetGo => &["release"],
        Verb::Unlock => &["unlock"],
        Verb::Lock => &["lock"],
        Verb::Pull => &["pull"],
        Verb::Insert => &["insert"],
        Verb::Transfer => &["transfer"],
        Verb::Bleed => &["bleed"],
        Verb::TopUp => &["top"],
        Verb::Seal => &["seal"],
        Verb::Lubricate => &["lubricate", "grease", "oil"],
        Verb::Programme => &["programme", "program", "code"],
        Verb::Calibrate => &["calibrate"],
        Verb::Mark => &["mark"],
        Verb::Cut => &["cut"],
        Verb::Drill => &["drill"],
        Verb::Discard => &["discard"],
        Verb::Inspect => &["inspect"],
        Verb::Measure => &["measure"],
        Verb::Clean => &["clean", "wipe"],
        Verb::Apply => &["apply"],
        Verb::Route => &["route"],
        Verb::Test => &["test"],
        Verb::SwitchOff | Verb::SwitchOn | Verb::Release | Verb::LookBehind | Verb::RoadTest => &[],
    };
    words.contains(&word)
}

/// The link of a reference with the operation as its address; a verb right before it becomes one of its words.
fn linked(operation: &Operation, place: Place, sentence: &Sentence<'_>, text: &str) -> Option<[(Span, String); 2]> {
    let references = references(sentence);
    let takes = |kind: RefKind, id: &str| match kind {
        RefKind::Tool => true,
        RefKind::Spec => operation.specs.iter().any(|spec| spec.value == id) && operation.verb.reads_off() || is_torque(operation, id),
        _ => false,
    };
    let beside: Vec<&str> = references.iter().filter(|(kind, id, _)| takes(*kind, id)).map(|(_, id, _)| *id).collect();
    let address = short::spell(operation, &beside)?;
    let behind = text.get(place.words.end as usize..)?;
    let close = behind.strip_prefix("](").and_then(|rest| rest.find(')')).map(|at| at + 3)?;
    let old = &behind[2..close - 1];
    RefKind::parse(old)?;
    let address_span = Span { start: place.words.end, end: place.words.end + close as u32 };
    let open = place.words.start.checked_sub(1).filter(|at| text[*at as usize..].starts_with('['))?;
    let verb = sentence.place(0, 1);
    let between = text.get(verb.end as usize..open as usize)?;
    let head = if between == " " && sentence.link(0).is_none() {
        let before = Span { start: verb.start, end: open + 1 };
        (before, format!("[{} ", &text[verb.range()]))
    } else {
        (Span { start: open, end: open + 1 }, "[".to_owned())
    };
    Some([head, (address_span, format!("]({address})"))])
}

fn is_torque(operation: &Operation, id: &str) -> bool {
    let named = matches!(&operation.torque, Some(crate::guide::model::TorqueRef::Spec(spec)) if spec.value == id);
    named && operation.verb.does_up() && !operation.by_hand
}

/// The list without the operations from `first` on; all of it goes where none is left. Only a list that holds nothing but its operations
/// is shortened: a remark in it would be lost.
fn without(listed: &[&Operation], first: usize, step: &Step<'_>, text: &str) -> Option<(Span, String)> {
    let block = step.block?;
    let start = listed.first()?.span.start as usize;
    let end = listed.last()?.span.end as usize;
    let head = &text[block.start as usize..start];
    let line = head.trim_end_matches([' ', '\n', '\r', '[']).rfind('\n').map_or(0, |at| at + 1);
    let statement = block.start as usize + line;
    let opening: String = text[statement..start].split_whitespace().collect();
    let tail = text.get(end..block.end as usize)?;
    let close = tail.find(']')?;
    let clean = opening == "do=["
        && tail[..close].chars().all(|c| c.is_whitespace() || c == ',')
        && listed
            .windows(2)
            .all(|two| text[two[0].span.end as usize..two[1].span.start as usize].chars().all(|c| c.is_whitespace() || c == ','));
    if !clean {
        return None;
    }
    if first > 0 {
        let kept = listed[first - 1].span.end as usize;
        let line_end = if text.contains("\r\n") { "\r\n" } else { "\n" };
        let closing = if tail[..close].contains('\n') { format!(",{line_end}]") } else { "]".to_owned() };
        return Some((Span::new(kept..end + close + 1), closing));
    }
    let line_end = text[end + close + 1..].find('\n').map_or(0, |at| at + 1);
    let rest = &text[end + close + 1..end + close + 1 + line_end];
    if !rest.trim().is_empty() {
        return None;
    }
    // A block needs something in it.
    let body =
        text[block.start as usize + 3..statement].trim().is_empty() && text[end + close + 1..block.end as usize - 3].trim().is_empty();
    (!body).then(|| (Span::new(statement..end + close + 1 + line_end), String::new()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::{self, model::Shop};
    use crate::source::{FileId, SourceFile};

    const HEAD: &str = "+++\ntitle = \"T\"\nsources = { m = \"M\" }\n[part]\nplate = \"Plate\"\n[hardware]\nbolt = \"4 x Bolt\"\nnut = \"2 x Nut; nut\"\n[spec]\nbolt = \"20 N·m; m\"\ngap = \"Gap; 2 mm; m\"\n[item]\ncover = \"Cover\"\n[tool]\nlever = \"Lever\"\n+++\n\n## A\n\n+++\n";

    fn carried(step: &str) -> String {
        let text = format!("{HEAD}{step}");
        let source = SourceFile::new("guides/t.md", &*text);
        let (shop, _): (Shop, _) = guide::read_shop(&SourceFile::new("guides/shop.toml", ""), FileId(0));
        let (guide, _) = guide::read(&source, FileId(1), "t", &shop);
        let mut text = text.clone();
        for carried in carry(&guide, &source.text).iter().rev() {
            text = carried.apply(&text);
        }
        text[HEAD.len()..].to_owned()
    }

    #[test]
    fn what_one_sentence_tells_moves_into_it() {
        for (step, after) in [
            (
                "minutes = 1\ndo = [{ fit = \"plate\", hardware = \"4 x bolt\", torque = \"bolt\" }]\n+++\n\nTighten [the bolts](hardware:bolt) to [](spec:bolt).\n",
                "minutes = 1\n+++\n\n[Tighten the bolts](<fit: plate, 4 x bolt>) to [](spec:bolt).\n",
            ),
            (
                "do = [\n  { clean = \"cover\" },\n  { remove = \"cover\", with = [\"lever\"], keep = true },\n]\n+++\n\nRemove [the cover](item:cover) with [the lever](tool:lever).\n",
                "do = [\n  { clean = \"cover\" },\n]\n+++\n\n[Remove the cover](<remove: cover, keep>) with [the lever](tool:lever).\n",
            ),
            (
                "minutes = 1\ndo = [{ remove = \"cover\" }, { measure = \"plate\", specs = [\"gap\"] }]\n+++\n\nRemove [the cover](item:cover).\nThen measure [the plate](part:plate): [](spec:gap).\n",
                "minutes = 1\n+++\n\n[Remove the cover](remove:cover).\nThen measure [the plate](measure:plate): [](spec:gap).\n",
            ),
        ] {
            assert_eq!(carried(step), after);
        }
    }

    #[test]
    fn what_may_be_meant_otherwise_stays() {
        for step in [
            // Two sentences, two operations, another order, a condition, another verb, no reference.
            "minutes = 1\ndo = [{ remove = \"cover\" }]\n+++\n\nRemove [the cover](item:cover).\nUndo [the cover](item:cover).\n",
            "minutes = 1\ndo = [{ remove = \"cover\" }, { remove = \"cover\" }]\n+++\n\nRemove [the cover](item:cover).\n",
            "minutes = 1\ndo = [{ remove = \"cover\" }, { clean = \"plate\" }]\n+++\n\nClean [the plate](part:plate).\nRemove it.\n",
            "minutes = 1\ndo = [{ remove = \"cover\" }]\n+++\n\nIf it is wet, remove [the cover](item:cover).\n",
            "minutes = 1\ndo = [{ remove = \"cover\" }]\n+++\n\nNever remove [the cover](item:cover).\n",
            "minutes = 1\ndo = [{ remove = \"cover\" }]\n+++\n\nClean [the cover](item:cover).\n",
            "minutes = 1\ndo = [{ remove = \"cover\" }]\n+++\n\nRemove the cover.\n",
            "minutes = 1\ndo = [{ remove = \"cover\" }]\n+++\n\n> Remove [the cover](item:cover).\n",
            // A remark in the list, a note that a link cannot hold, a block with nothing else in it.
            "minutes = 1\ndo = [\n  # first\n  { remove = \"cover\" },\n]\n+++\n\nRemove [the cover](item:cover).\n",
            "minutes = 1\ndo = [{ remove = \"cover\", note = \"a <b>\" }]\n+++\n\nRemove [the cover](item:cover).\n",
            "do = [{ remove = \"cover\" }]\n+++\n\nRemove [the cover](item:cover).\n",
        ] {
            // The second of the first group is carried as far as its last operation goes.
            let after = carried(step);
            let partly = step.contains("clean = \"plate\"");
            assert_eq!(after == step, !partly, "{step}{after}");
        }
    }
}
