//! The front page: what the shop can do, by system and vehicle, and which state of the guides it shows.

use std::collections::BTreeMap;

use crate::guide::model::Shop;
use crate::publish::guide_page::{date_words, vehicle_name};
use crate::publish::page_data::{Front, GuideLine, System, Vehicle};
use crate::publish::{Summary, fingerprint};

/// The data of the front page.
pub fn page(summaries: &[Summary], shop: &Shop) -> Front {
    let mut systems: BTreeMap<&str, Vec<GuideLine>> = BTreeMap::new();
    for summary in summaries {
        systems.entry(&summary.line.system).or_default().push(summary.line.clone());
    }
    let fitted = |id: &str| summaries.iter().any(|summary| summary.line.fits.iter().any(|vehicle| vehicle.id == id));
    let vehicles = shop.shared.vehicles.rows.iter().filter(|vehicle| fitted(&vehicle.id.value));
    Front {
        systems: systems
            .into_iter()
            .map(|(name, mut guides)| {
                guides.sort_by(|a, b| (&a.title, &a.slug).cmp(&(&b.title, &b.slug)));
                System { name: name.to_owned(), guides }
            })
            .collect(),
        vehicles: vehicles.map(|vehicle| Vehicle { id: vehicle.id.value.clone(), name: vehicle_name(vehicle) }).collect(),
        guides: summaries.len(),
        steps: summaries.iter().map(|summary| summary.line.steps).sum(),
        newest: summaries.iter().filter_map(|summary| summary.issued).max().map(date_words),
        state: fingerprint(summaries.iter().map(|summary| summary.fingerprint.as_bytes())),
    }
}
