//! What each operation opens and closes, as a technician ticks it off: the same accounts as `items` keeps, without a judgement. Which
//! combinations of options occur, and what must be closed at the end, is left to the accounts that the review reads.

use std::collections::BTreeMap;

use crate::guide::model::{Guide, Operation, Shop};
use crate::guide::names::{Names, Thing};
use crate::guide::tally;
use crate::guide::verb::{Effect, Verb};

/// One thing that an operation opens or closes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move<'g> {
    /// The step, as an index.
    pub step: usize,
    /// The operation in it, as an index.
    pub operation: usize,
    /// The thing's id.
    pub thing: &'g str,
    /// The verb that opens it, which names the way in which it is open.
    pub way: Verb,
    /// Whether it is opened here, or closed.
    pub opens: bool,
    /// How many of it.
    pub count: u32,
}

/// All moves in the order of the guide.
pub fn moves<'g>(guide: &'g Guide<'_>, shop: &'g Shop) -> Vec<Move<'g>> {
    let names = Names::new(guide, shop);
    let mut moves = Vec::new();
    // A reservoir is uncapped and capped, a cut line capped and uncapped: the first of the two is the one that opens.
    let mut first: BTreeMap<(&str, Verb), Verb> = BTreeMap::new();
    for (step, facts) in guide.steps.iter().enumerate() {
        for (at, operation) in facts.operations.iter().enumerate() {
            let to = |thing, way, opens, count| Move { step, operation: at, thing, way, opens, count };
            let count = operation.count.map_or(1, |count| count.value);
            for id in &operation.targets {
                let id = names.meant(&id.value);
                let Some(thing) = names.thing(id) else { continue };
                if operation.verb == Verb::Discard {
                    moves.push(to(id, Verb::Remove, false, count));
                    continue;
                }
                let opening = match operation.verb.effect() {
                    Effect::Opens(_) => operation.verb,
                    Effect::Closes(opening) => opening,
                    Effect::Lasting | Effect::Nothing => continue,
                };
                let either = opening.first_opens();
                let way = if either { *first.entry((id, opening)).or_insert(operation.verb) } else { opening };
                // A part of the kit is off the vehicle until it is fitted, and nobody left it so.
                if matches!(way, Verb::Remove | Verb::Pull) && matches!(thing, Thing::Part(_)) {
                    continue;
                }
                let named = operation.hardware.iter().find(|counted| names.meant(&counted.id.value) == id);
                let count = named.filter(|_| operation.count.is_none()).map_or(count, |counted| counted.count.max(count)).max(1);
                moves.push(to(id, way, operation.verb == way, count));
            }
            moves.extend(looseness(operation, names).into_iter().map(|(id, opens, count)| to(id, Verb::Loosen, opens, count.max(1))));
        }
    }
    moves
}

/// Hardware named beside what is worked on, which an operation leaves loose or does up.
fn looseness<'g>(operation: &'g Operation, names: Names<'g>) -> Vec<(&'g str, bool, u32)> {
    let opens = match operation.verb {
        Verb::Loosen => true,
        // What came off is no longer loose in its place: the thing it held is off, and counts itself.
        Verb::Tighten | Verb::Remove | Verb::Disconnect => false,
        Verb::Fit | Verb::Connect => operation.by_hand,
        _ => return Vec::new(),
    };
    let named = tally::hardware_of(operation, names).into_iter();
    let beside = named.filter(|(_, hardware)| !operation.targets.iter().any(|id| names.meant(&id.value) == hardware.id.as_str()));
    // Fitting by hand leaves loose even what the operation acts on.
    if opens && operation.by_hand {
        return tally::hardware_of(operation, names).into_iter().map(|(count, hardware)| (hardware.id.as_str(), true, count)).collect();
    }
    beside.map(|(count, hardware)| (hardware.id.as_str(), opens, count)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::{read, shop};
    use crate::source::{FileId, SourceFile};

    fn told(operations: &str) -> Vec<String> {
        let text = format!(
            "+++\ntitle = \"Demonstration\"\n\n[[connector]]\nid = \"plug\"\nname = \"Plug\"\n\n[[item]]\nid = \"tank\"\nname = \"Tank\"\n\n\
             [[part]]\nid = \"bracket\"\nname = \"Bracket\"\nsupplied = 1\n\n[[hardware]]\nid = \"bolt\"\nname = \"Bolt\"\nsupplied = 4\n+++\n\n\
             ## Work\n\n+++\ndo = [\n{operations}]\n+++\n\nDo it.\n"
        );
        let source = SourceFile::new("a.md", text);
        let shop = shop::unnamed();
        let (guide, _) = read(&source, FileId(0), "a", &shop);
        let word = |moved: Move<'_>| {
            format!("{}{}/{}*{} in {}", if moved.opens { '+' } else { '-' }, moved.way.key(), moved.thing, moved.count, moved.operation + 1)
        };
        moves(&guide, &shop).into_iter().map(word).collect()
    }

    #[test]
    fn what_is_opened_is_closed_on_the_same_account() {
        assert_eq!(
            told("  { disconnect = \"plug\" },\n  { connect = \"plug\" },\n"),
            ["+disconnect/plug*1 in 1", "-disconnect/plug*1 in 2"]
        );
        assert_eq!(told("  { remove = \"tank\" },\n  { discard = \"tank\" },\n"), ["+remove/tank*1 in 1", "-remove/tank*1 in 2"]);
    }

    #[test]
    fn of_cap_and_uncap_the_first_opens() {
        assert_eq!(told("  { uncap = \"tank\" },\n  { cap = \"tank\" },\n"), ["+uncap/tank*1 in 1", "-uncap/tank*1 in 2"]);
        assert_eq!(told("  { cap = \"tank\" },\n  { uncap = \"tank\" },\n"), ["+cap/tank*1 in 1", "-cap/tank*1 in 2"]);
    }

    #[test]
    fn bolts_started_by_hand_are_loose_until_they_are_tightened() {
        let operations = "  { fit = \"bracket\", hardware = \"4 x bolt\", by_hand = true },\n  { tighten = \"bolt\", count = 4 },\n";
        assert_eq!(told(operations), ["+loosen/bolt*4 in 1", "-loosen/bolt*4 in 2"]);
        assert_eq!(told("  { fit = \"bracket\", hardware = \"4 x bolt\" },\n"), ["-loosen/bolt*4 in 1"], "a part of the kit opens nothing");
    }
}
