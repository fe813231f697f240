//! Tightening values over all guides, by vehicle: a page for each vehicle, and the list of these pages.

use crate::document::vehicles;
use crate::guide::model::Shop;
use crate::site::Listed;
use crate::theme::data::{GuideValues, Values, VehicleLine, VehicleValues};

/// The data of each vehicle's page, in the shop's order; vehicles without values have none.
pub fn pages<'s>(summaries: &'s [Listed], shop: &Shop) -> Vec<VehicleValues<'s>> {
    let with_values = summaries.iter().filter(|summary| !summary.torques.is_empty());
    let guides: Vec<(&[crate::document::Vehicle], &Listed)> =
        with_values.map(|summary| (summary.told.head.fits.as_slice(), summary)).collect();
    let page = |vehicle: vehicles::OfVehicle<&'s Listed>| VehicleValues {
        file: vehicle.file,
        name: vehicle.name,
        guides: vehicle.guides.into_iter().map(|summary| GuideValues { line: &summary.line, rows: &summary.torques }).collect(),
    };
    vehicles::by_vehicle(&guides, shop).into_iter().map(page).collect()
}

/// The list of the pages.
pub fn list(pages: &[VehicleValues<'_>]) -> Values {
    let line = |page: &VehicleValues<'_>| VehicleLine {
        file: page.file.clone(),
        name: page.name.clone(),
        guides: page.guides.len(),
        rows: page.guides.iter().map(|guide| guide.rows.len()).sum(),
    };
    Values { vehicles: pages.iter().map(line).collect() }
}
