//! Guides by vehicle and by system: a page for each, and the lists of these pages.

use std::collections::{BTreeMap, BTreeSet};

use crate::document::phrase::date as date_words;
use crate::document::vehicles::NO_VEHICLE;
use crate::guide::facts::slug_of;
use crate::guide::model::{Shop, Text};
use crate::site::Listed;
use crate::theme::data::{Group, GroupLine, Groups, System};

/// File names of systems, by the name that guides give.
pub type SystemFiles<'s> = BTreeMap<&'s str, String>;

/// A file name for every system. Two names may come down to one, as `Brakes` and `BRAKES!` do; then the second gets a number.
pub fn system_files(summaries: &[Listed]) -> SystemFiles<'_> {
    let names: BTreeSet<&str> = summaries.iter().map(|summary| summary.line.system.as_str()).collect();
    let mut taken = BTreeSet::new();
    names
        .into_iter()
        .map(|name| {
            let slug = slug_of(name);
            let stem = if slug.is_empty() { "system".to_owned() } else { slug };
            let numbered = (2..).map(|number| format!("{stem}-{number}"));
            let file = std::iter::once(stem.clone()).chain(numbered).find(|file| !taken.contains(file)).unwrap_or(stem);
            taken.insert(file.clone());
            (name, file)
        })
        .collect()
}

/// These guides by system, both in the order of their names.
pub fn by_system<'s>(guides: impl IntoIterator<Item = &'s Listed>, files: &SystemFiles<'_>) -> Vec<System<'s>> {
    let mut systems: BTreeMap<&str, Vec<&Listed>> = BTreeMap::new();
    for summary in guides {
        systems.entry(&summary.line.system).or_default().push(summary);
    }
    systems
        .into_iter()
        .map(|(name, mut guides)| {
            guides.sort_by_key(|summary| (&summary.line.title, &summary.line.slug));
            let file = files.get(name).cloned().unwrap_or_default();
            System { name: name.to_owned(), file, guides: guides.into_iter().map(|summary| &summary.line).collect() }
        })
        .collect()
}

/// The page of each vehicle in the shop's order; vehicles without a guide have none.
pub fn vehicles<'s>(summaries: &'s [Listed], shop: &Shop, files: &SystemFiles<'_>) -> Vec<Group<'s>> {
    let make = |file: &str, (name, years, note): (&str, Option<&Text>, Option<&Text>), guides: Vec<&'s Listed>| Group {
        folder: "vehicles",
        line: line(file, name, years.map(|years| years.value.clone()), &guides),
        note: note.map(|note| note.value.clone()),
        values: guides.iter().map(|summary| summary.torques.len()).sum(),
        systems: by_system(guides, files),
    };
    let mut by_vehicle: BTreeMap<&str, Vec<&Listed>> = BTreeMap::new();
    for summary in summaries {
        for vehicle in &summary.line.fits {
            let guides = by_vehicle.entry(&vehicle.id).or_default();
            // A vehicle named twice in one guide is one vehicle.
            if !guides.last().is_some_and(|last| std::ptr::eq(*last, summary)) {
                guides.push(summary);
            }
        }
    }
    let mut groups: Vec<Group<'s>> = Vec::new();
    for vehicle in &shop.shared.vehicles.rows {
        if let Some(guides) = by_vehicle.remove(vehicle.id.as_str()) {
            groups.push(make(vehicle.id.as_str(), (&vehicle.name.value, vehicle.years.as_ref(), vehicle.note.as_ref()), guides));
        }
    }
    let none: Vec<&Listed> = summaries.iter().filter(|summary| summary.line.fits.is_empty()).collect();
    if !none.is_empty() {
        groups.push(make(NO_VEHICLE, ("No vehicle named", None, None), none));
    }
    groups
}

/// The page of each system.
pub fn systems<'s>(summaries: &'s [Listed], files: &SystemFiles<'_>) -> Vec<Group<'s>> {
    let mut by_name: BTreeMap<&str, Vec<&Listed>> = BTreeMap::new();
    for summary in summaries {
        by_name.entry(&summary.line.system).or_default().push(summary);
    }
    by_name
        .into_iter()
        .map(|(name, guides)| Group {
            folder: "systems",
            line: line(files.get(name).map_or("", String::as_str), name, None, &guides),
            note: None,
            values: 0,
            systems: by_system(guides, files),
        })
        .collect()
}

fn line(file: &str, name: &str, years: Option<String>, guides: &[&Listed]) -> GroupLine {
    let newest_issue = guides.iter().filter_map(|summary| summary.told.head.issued).max().map(date_words);
    GroupLine { file: file.to_owned(), name: name.to_owned(), years, guides: guides.len(), newest_issue }
}

/// The list of such pages.
pub fn list<'g>(folder: &'static str, groups: &'g [Group<'_>]) -> Groups<'g> {
    Groups { folder, groups: groups.iter().map(|group| &group.line).collect() }
}
