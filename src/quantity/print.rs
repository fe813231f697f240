//! stub
use super::Quantity;
/// Which system of units leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// Metric units lead.
    MetricFirst,
    /// Inch and pound units lead.
    ImperialFirst,
}
/// A value as a reader sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    /// The value in the units that lead.
    pub first: String,
    /// The value in the other system, without brackets, where that system has a usual unit for it.
    pub second: Option<String>,
}
/// Prints a quantity in the asked order.
pub fn print(quantity: &Quantity, _order: Order, _decimal_comma: bool) -> Printed {
    Printed { first: spell(quantity), second: None }
}
/// The author's own statements in the one printed spelling.
pub fn spell(_quantity: &Quantity) -> String {
    String::new()
}
