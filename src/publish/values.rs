//! Tightening values over all guides, by vehicle: a page for each vehicle, and the list of these pages.

use crate::guide::model::Shop;
use crate::publish::Summary;
use crate::publish::guide_page::vehicle_name;
use crate::publish::page_data::{GuideLine, GuideValues, TorqueRow, Values, VehicleLine, VehicleValues};

/// The page for guides that name no vehicle. An id cannot be this, since ids start with a letter.
pub(super) const NO_VEHICLE: &str = "0-no-vehicle";

/// The data of each vehicle's page, in the shop's order; vehicles without values have none.
pub fn pages<'s>(summaries: &'s [Summary], shop: &Shop) -> Vec<VehicleValues<'s>> {
    let guides: Vec<(&GuideLine, &[TorqueRow])> = summaries.iter().map(|summary| (&summary.line, summary.torques.as_slice())).collect();
    vehicles(&guides, shop)
}

/// The same from guides with their values.
pub fn vehicles<'s>(guides: &[(&'s GuideLine, &'s [TorqueRow])], shop: &Shop) -> Vec<VehicleValues<'s>> {
    let guides_for = |wanted: &dyn Fn(&GuideLine) -> bool| -> Vec<GuideValues<'s>> {
        let with_values = guides.iter().filter(|(line, rows)| wanted(line) && !rows.is_empty());
        with_values.map(|(line, rows)| GuideValues { line, rows }).collect()
    };
    let mut pages: Vec<VehicleValues<'s>> = Vec::new();
    for vehicle in &shop.shared.vehicles.rows {
        let guides = guides_for(&|line| line.fits.iter().any(|fits| fits.id == vehicle.id.value));
        pages.push(VehicleValues { file: vehicle.id.value.clone(), name: vehicle_name(vehicle), guides });
    }
    let guides = guides_for(&|line| line.fits.is_empty());
    pages.push(VehicleValues { file: NO_VEHICLE.to_owned(), name: "No vehicle named".to_owned(), guides });
    pages.retain(|page| !page.guides.is_empty());
    pages
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
