//! Which drives are usual on which thread. Reading and printing drives is left to `drive`.
//!
//! Hexagons: ISO 272, ISO 4014 and 4032, with older DIN and Asian widths and the small flange series (ISO 4162, EN 1662), ASME B18.2.1
//! and B18.2.2. Internal hexagons: ISO 4762, ISO 10642, ISO 7380, ISO 4026, ASME B18.3. Six-lobe: ISO 14579, ISO 14583 and vehicle
//! practice. Cross recess: ISO 7045. All rows are from memory of these standards and from trade practice: they only carry a doubt.

use super::drive::{Across, Drive};
use super::thread::{Size, Thread};

type Row = (u32, &'static [u32]);

/// Nominal diameter in millimetres; widths across flats in millimetres, the standard one first.
const HEX: &[Row] = &[
    (4, &[7]),
    (5, &[8, 7]),
    (6, &[10, 8]),
    (7, &[11, 10]),
    (8, &[13, 12, 10]),
    (10, &[16, 17, 15, 14, 13]),
    (12, &[18, 19, 17, 16, 15]),
    (14, &[21, 22, 19, 18, 17]),
    (16, &[24, 22, 21]),
    (18, &[27, 24]),
    (20, &[30, 27]),
    (22, &[34, 32]),
    (24, &[36, 32]),
];

/// Nominal diameter in millimetres; widths of internal hexagons in tenths of a millimetre: cap, countersunk or button head, grub screw.
const INTERNAL: &[Row] = &[
    (3, &[25, 20, 15]),
    (4, &[30, 25, 20]),
    (5, &[40, 30, 25]),
    (6, &[50, 40, 30]),
    (8, &[60, 50, 40]),
    (10, &[80, 60, 70, 50]),
    (12, &[100, 80, 60]),
    (14, &[120, 100]),
    (16, &[140, 100, 80]),
    (20, &[170, 120, 100]),
    (24, &[190, 140]),
];

const SIX_LOBE: &[Row] = &[
    (2, &[6, 7, 8]),
    (3, &[10, 9, 8]),
    (4, &[20, 15]),
    (5, &[25, 20, 27]),
    (6, &[30, 25, 27]),
    (8, &[45, 40, 50]),
    (10, &[50, 45, 40]),
    (12, &[55, 60, 50]),
    (14, &[60, 55]),
    (16, &[70, 60]),
];

const EXTERNAL_SIX_LOBE: &[Row] =
    &[(5, &[6, 7, 5]), (6, &[8, 7]), (8, &[10, 12, 11]), (10, &[12, 14]), (12, &[14, 16, 18]), (14, &[18, 20, 16]), (16, &[20, 22, 24])];

const CROSS: &[Row] = &[(2, &[1, 0]), (3, &[1, 2]), (4, &[2]), (5, &[2]), (6, &[3, 2]), (8, &[4, 3]), (10, &[4])];

/// Number of a numbered size; widths across flats in sixty-fourths of an inch.
const NUMBER_HEX: &[Row] = &[(4, &[12, 16]), (6, &[16, 20]), (8, &[16, 22]), (10, &[20, 24]), (12, &[20, 28])];
const NUMBER_INTERNAL: &[Row] = &[(4, &[6, 4]), (6, &[7, 5]), (8, &[9, 6, 5]), (10, &[10, 8, 6]), (12, &[10])];

/// Nominal diameter and widths across flats in sixty-fourths of an inch.
const INCH_HEX: &[Row] = &[
    (16, &[28, 24]),
    (20, &[32]),
    (24, &[36]),
    (28, &[40, 44]),
    (32, &[48]),
    (36, &[52, 56]),
    (40, &[60]),
    (48, &[72]),
    (56, &[84]),
    (64, &[96]),
];
const INCH_INTERNAL: &[Row] =
    &[(16, &[12, 10, 8]), (20, &[16, 12, 10]), (24, &[20, 14, 12]), (28, &[24, 16]), (32, &[24, 20, 16]), (40, &[32, 24]), (48, &[40, 32])];

/// Hexagons of pipe nuts, wheel bolts and wheel nuts, by thread: they go with the fine thread alone (makers' lists, from memory).
/// Nominal diameter and pitch in hundredths of a millimetre; widths across flats in millimetres.
const FINE_HEX: &[(u32, u32, &[u32])] = &[
    (1000, 100, &[11, 10, 12]),
    (1100, 150, &[13, 14]),
    (1200, 100, &[13, 14]),
    (1200, 125, &[21]),
    (1200, 150, &[21, 13, 14]),
    (1400, 150, &[16]),
];

/// The same for inverted-flare pipe nuts (SAE J512, from memory): sixty-fourths of an inch and threads to the inch; widths in
/// sixty-fourths of an inch and, as they are often metric on vehicles built to both, in millimetres.
const PIPE_NUT_HEX: &[(u32, u32, &[u32], &[u32])] =
    &[(24, 24, &[28, 24], &[11, 10]), (28, 24, &[32, 28], &[12, 13]), (28, 20, &[32, 28], &[12, 13]), (32, 20, &[36, 40], &[14, 15])];

/// The drives of the same shape that are usual on a thread, the standard one first; none where no list is kept.
pub(super) fn usual(drive: &Drive, thread: &Thread) -> Option<Vec<Drive>> {
    let find = |table: &'static [Row], size: u32, make: &dyn Fn(u32) -> Drive| {
        table.iter().find(|(of, _)| *of == size).map(|(_, drives)| drives.iter().map(|drive| make(*drive)).collect())
    };
    let mm = |width: u32| Across::Mm(width * 1000);
    if let Drive::Hex(across) = drive
        && special_hex(thread).contains(across)
    {
        return Some(vec![*drive]);
    }
    match thread.size() {
        Size::Metric(thousandths) => {
            let size = (thousandths % 1000 == 0).then_some(thousandths / 1000)?;
            match drive {
                Drive::Hex(_) => find(HEX, size, &|width| Drive::Hex(mm(width))),
                Drive::InternalHex(_) => find(INTERNAL, size, &|tenths| Drive::InternalHex(Across::Mm(tenths * 100))),
                Drive::SixLobe(_) => find(SIX_LOBE, size, &Drive::SixLobe),
                Drive::ExternalSixLobe(_) => find(EXTERNAL_SIX_LOBE, size, &Drive::ExternalSixLobe),
                Drive::CrossH(_) => find(CROSS, size, &Drive::CrossH),
                Drive::CrossZ(_) => find(CROSS, size, &Drive::CrossZ),
                Drive::TwelvePoint(_) | Drive::Square(_) | Drive::TripleSquare(_) | Drive::Spline(_) | Drive::Slot => None,
            }
        }
        Size::Number(size) => match drive {
            Drive::Hex(_) => find(NUMBER_HEX, size, &|width| Drive::Hex(Across::Inch(width))),
            Drive::InternalHex(_) => find(NUMBER_INTERNAL, size, &|width| Drive::InternalHex(Across::Inch(width))),
            _ => None,
        },
        Size::Inch(size) => match drive {
            Drive::Hex(_) => find(INCH_HEX, size, &|width| Drive::Hex(Across::Inch(width))),
            Drive::InternalHex(_) => find(INCH_INTERNAL, size, &|width| Drive::InternalHex(Across::Inch(width))),
            _ => None,
        },
    }
}

/// Hexagons that only this thread of its size has.
fn special_hex(thread: &Thread) -> Vec<Across> {
    let hundredths = |mm: f64| (mm * 100.0).round() as u32;
    let mm = |width: &u32| Across::Mm(width * 1000);
    match thread.size() {
        Size::Metric(thousandths) => {
            let rows = FINE_HEX.iter().filter(|row| row.0 * 10 == thousandths && row.1 == hundredths(thread.pitch_mm()));
            rows.flat_map(|row| row.2.iter().map(mm)).collect()
        }
        Size::Inch(size) => {
            let turns = (super::thread::INCH_MM / thread.pitch_mm()).round() as u32;
            let rows = PIPE_NUT_HEX.iter().filter(|row| row.0 == size && row.1 == turns);
            rows.flat_map(|row| row.2.iter().map(|width| Across::Inch(*width)).chain(row.3.iter().map(mm))).collect()
        }
        Size::Number(_) => Vec::new(),
    }
}
