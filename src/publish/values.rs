//! Tightening values over all guides, by vehicle.

use crate::guide::model::Shop;
use crate::publish::Summary;
use crate::publish::guide_page::vehicle_name;
use crate::publish::page_data::{GuideValues, Values, VehicleValues};

/// The data of the page of values.
pub fn page(summaries: &[Summary], shop: &Shop) -> Values {
    let guides_for = |wanted: &dyn Fn(&Summary) -> bool| -> Vec<GuideValues> {
        let with_values = summaries.iter().filter(|summary| wanted(summary) && !summary.torques.is_empty());
        with_values
            .map(|summary| GuideValues { slug: summary.line.slug.clone(), title: summary.line.title.clone(), rows: summary.torques.clone() })
            .collect()
    };
    let mut vehicles: Vec<VehicleValues> = Vec::new();
    for vehicle in &shop.shared.vehicles.rows {
        let guides = guides_for(&|summary| summary.line.fits.iter().any(|fits| fits.id == vehicle.id.value));
        vehicles.push(VehicleValues { name: vehicle_name(vehicle), guides });
    }
    vehicles.push(VehicleValues { name: "No vehicle named".to_owned(), guides: guides_for(&|summary| summary.line.fits.is_empty()) });
    vehicles.retain(|vehicle| !vehicle.guides.is_empty());
    Values { vehicles }
}
