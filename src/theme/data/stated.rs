//! What templates get of what a step states beside its work: cautions that still hold, and departures from the supplier's sheet.

use serde::Serialize;

use super::{Caution, StepLink};

/// A caution that an earlier step stated and that still holds.
#[derive(Clone, Debug, Serialize)]
pub struct StillHolds {
    /// The caution.
    pub caution: Caution,
    /// The step that stated it; none where it stands before the first step.
    pub from: Option<StepLink>,
}

/// Where a step departs from the supplier's sheet.
#[derive(Clone, Debug, Serialize)]
pub struct Departure {
    /// What the sheet says.
    pub says_html: String,
    /// What is done.
    pub does_html: String,
    /// Why.
    pub why_html: String,
    /// Who approved it.
    pub approved: Option<String>,
    /// The sheet.
    pub source: Option<String>,
}

/// A row of the list of departures.
#[derive(Clone, Debug, Serialize)]
pub struct DepartureRow {
    /// The step.
    pub step: StepLink,
    /// Its heading.
    pub title: String,
    /// The options that the step needs, as terms.
    pub terms: Option<String>,
    /// The departure.
    pub departure: Departure,
}

/// What a job uses up.
#[derive(Clone, Debug, Serialize)]
pub struct Consumable {
    /// Its name.
    pub name: String,
    /// How much.
    pub amount: Option<String>,
    /// The number it is ordered by.
    pub number: Option<String>,
    /// Whether it has to be bought for the job.
    pub buy: bool,
    /// The options it is needed with in words, and what else is said; empty where nothing is.
    pub note: String,
    /// The options it is needed with, as terms.
    pub terms: Option<String>,
}
