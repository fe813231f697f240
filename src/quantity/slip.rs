//! stub
use super::{Quantity};
/// stub
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Slip {
    /// stub
    Exchanged,
}
/// stub
pub fn slip(_a: &Quantity, _b: &Quantity) -> Option<String> {
    None
}
