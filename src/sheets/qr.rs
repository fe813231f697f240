//! The address of a page as a QR code (ISO/IEC 18004), the only user of its package.

use std::rc::Rc;

use fast_qr::{ECL, QRBuilder};

use super::piece::Mark;

/// A code: its rows, true for a dark square.
#[derive(Clone, Debug)]
pub struct Code(Rc<Vec<Vec<bool>>>);

/// How many squares stay white round a code (ISO/IEC 18004, 6.3.8).
const QUIET: usize = 4;

impl Code {
    /// The code of an address; none if it is longer than any code holds. Level M stays readable with 15 % of it under oil.
    pub fn new(address: &str) -> Option<Code> {
        let code = QRBuilder::new(address).ecl(ECL::M).build().ok()?;
        Some(Code(Rc::new((0..code.size).map(|y| (0..code.size).map(|x| code[y][x].value()).collect()).collect())))
    }

    /// The code with its white margin in a square of a side.
    pub fn mark(&self, x: f32, y: f32, side: f32) -> Mark {
        let square = side / (self.0.len() + 2 * QUIET) as f32;
        let margin = QUIET as f32 * square;
        Mark::Squares { at: (x + margin, y + margin), side: square, rows: Rc::clone(&self.0) }
    }
}
