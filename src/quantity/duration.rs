//! stub
use super::{Exact, Quantity};
/// A duration as ISO 8601 writes it.
pub fn duration_iso(_quantity: &Quantity) -> String {
    String::new()
}
/// A number of minutes as ISO 8601 writes it.
pub fn duration_iso_minutes(_minutes: Exact) -> String {
    String::new()
}
/// A duration in hours and minutes.
pub fn duration_words(_quantity: &Quantity) -> String {
    String::new()
}
