//! Guides by the vehicles that they fit, in the shop's order: the same lists on pages and on sheets for the wall.

use super::Vehicle;
use crate::guide::model::{self, Shop};

/// The file name for guides that name no vehicle. An id cannot be this, since ids start with a letter.
pub const NO_VEHICLE: &str = "0-no-vehicle";

/// A vehicle with its guides.
#[derive(Clone, Debug)]
pub struct OfVehicle<T> {
    /// The name of its page, without ending.
    pub file: String,
    /// Its name with the years.
    pub name: String,
    /// Its guides.
    pub guides: Vec<T>,
}

/// A vehicle's name with its years.
pub fn name(vehicle: &model::Vehicle) -> String {
    match &vehicle.years {
        Some(years) => format!("{}, {}", vehicle.name.value, years.value),
        None => vehicle.name.value.clone(),
    }
}

/// Guides by vehicle, each with what is kept of it; vehicles without a guide are left out.
pub fn by_vehicle<T: Clone>(guides: &[(&[Vehicle], T)], shop: &Shop) -> Vec<OfVehicle<T>> {
    let with = |wanted: &dyn Fn(&[Vehicle]) -> bool| -> Vec<T> {
        guides.iter().filter(|(fits, _)| wanted(fits)).map(|(_, kept)| kept.clone()).collect()
    };
    let mut all: Vec<OfVehicle<T>> = Vec::new();
    for vehicle in &shop.shared.vehicles.rows {
        let guides = with(&|fits| fits.iter().any(|fits| fits.id == vehicle.id.value));
        all.push(OfVehicle { file: vehicle.id.value.clone(), name: name(vehicle), guides });
    }
    let guides = with(&|fits| fits.is_empty());
    all.push(OfVehicle { file: NO_VEHICLE.to_owned(), name: "No vehicle named".to_owned(), guides });
    all.retain(|vehicle| !vehicle.guides.is_empty());
    all
}
