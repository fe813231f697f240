//! stub
use super::{Quantity, Statement};
/// Whether two statements name one value, within the rounding of their digits.
pub fn agree(_a: &Statement, _b: &Statement) -> bool {
    false
}
/// Whether two quantities name one value, within the rounding of their digits.
pub fn same(_a: &Quantity, _b: &Quantity) -> bool {
    false
}
