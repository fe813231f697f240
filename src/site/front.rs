//! The front page: what the shop can do for which vehicle, what is new, and which state of the guides it shows.

use crate::document::fingerprint::fingerprint;
use crate::document::phrase::date as date_words;
use crate::document::summary;
use crate::guide::model::Shop;
use crate::site::groups::{self, SystemFiles};
use crate::site::{Listed, news};
use crate::theme::data::{Front, Group, GroupLine};

/// The most vehicles, and the most systems, that stand on the first screen of a phone.
const MOST_CHOICES: usize = 6;
/// The most revisions shown as new.
const MOST_NEW: usize = 3;
/// A shop with more guides than this finds them by vehicle, system and word: one list of all would load slowly and serve nobody.
const LONGEST_REGISTER: usize = 250;

/// The data of the front page.
pub fn page<'s>(
    summaries: &'s [Listed],
    shop: &Shop,
    files: &SystemFiles<'_>,
    vehicles: &[Group<'_>],
    systems: &[Group<'_>],
    threads: bool,
) -> Front<'s> {
    let newest = summaries.iter().filter_map(|summary| summary.told.head.issued).max();
    let new = summary::sorted(summaries, |kept| &kept.told);
    // A vehicle that the guides do not name is no vehicle to choose.
    let named = |group: &&Group<'_>| shop.shared.vehicles.get(&group.line.file).is_some();
    let register = if summaries.len() > LONGEST_REGISTER { Vec::new() } else { groups::by_system(summaries, files) };
    Front {
        vehicles: choices(vehicles.iter().filter(named)),
        all_vehicles: vehicles.iter().filter(named).count(),
        systems: choices(systems.iter()),
        all_systems: systems.len(),
        newest: new.iter().copied().filter(|(_, issue)| !issue.superseded).take(MOST_NEW).map(news::row).collect(),
        register,
        guides: summaries.len(),
        steps: summaries.iter().map(|summary| summary.line.steps).sum(),
        newest_issue: newest.map(date_words),
        newest_issue_iso: newest.map(|date| date.to_string()),
        state: fingerprint(summaries.iter().map(|summary| summary.told.fingerprint.as_bytes())),
        feed: !new.is_empty(),
        threads,
    }
}

/// As many as fit, those with most guides, in their own order.
fn choices<'g>(groups: impl Iterator<Item = &'g Group<'g>>) -> Vec<GroupLine> {
    let mut all: Vec<(usize, &GroupLine)> = groups.map(|group| &group.line).enumerate().collect();
    if all.len() > MOST_CHOICES {
        all.sort_by_key(|(at, line)| (std::cmp::Reverse(line.guides), *at));
        // The last place is for the way to all of them.
        all.truncate(MOST_CHOICES - 1);
        all.sort_by_key(|(at, _)| *at);
    }
    all.into_iter().map(|(_, line)| line.clone()).collect()
}
