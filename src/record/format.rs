//! The as-built record that the bay view saves: its fields declared once, for the handbook and for reading it. The file itself is written
//! and read by `themes/record.js`; a browser test holds what it writes against this declaration. Checking it is left to `record`.

use crate::chapter::{Plain, PlainSection};
use crate::described::objects;

objects! { read back:
    /// The record.
    Record "The record" {
        /// Always `bayleaf-record`.
        format: String,
        /// Which version of this description holds. It rises when a field changes its meaning or goes; fields may be added at any time.
        version: u32,
        /// The guide that was worked to.
        guide: RecordGuide,
        /// The options chosen.
        options: RecordOptions,
        /// The order and the vehicle.
        order: RecordOrder,
        /// What was ticked: `STEP/1` is the first operation of a step, `STEP/1/pass/2` its second pass, `STEP/check/1` its first check, `STEP/wait` its time of waiting, `STEP/hold` its stop; `before/1`, `final/1` and `follow-up/1` stand outside the steps.
        ticks: Vec<String>,
        /// The torques applied.
        torques: Vec<RecordTorque>,
        /// The values measured; a record saved before there were any has none.
        measured: Vec<RecordMeasured>,
        /// Times of waiting that were clocked; a record saved before there were any has none.
        waits: Vec<RecordWait>,
        /// Notes and names at stops.
        notes: Vec<RecordNote>,
        /// Who signed.
        signed: RecordSigned,
        /// The last field. SHA-256 of the file's text up to the comma before this field, line ends read as one line feed, in 64 hexadecimal digits. It shows that a file was damaged or changed by a slip. It has no key: whoever changes a file on purpose can reckon it anew, so it proves neither who wrote the file nor that nobody rewrote it.
        seal: String,
    }

    /// The guide that was worked to.
    RecordGuide "The guide" {
        /// The name of the guide's folder in the site.
        slug: String,
        /// What the guide does.
        title: String,
        /// The shop's number for it.
        document: Option<String>,
        /// The revision.
        revision: Option<String>,
        /// The fingerprint of the state that was worked to.
        fingerprint: String,
    }

    /// The options chosen.
    RecordOptions "The options" {
        /// Options that the vehicle has, by id.
        with: Vec<String>,
        /// Options that it does not have, by id.
        without: Vec<String>,
    }

    /// The order and the vehicle; what was not entered is empty.
    RecordOrder "The order" {
        /// The number of the job; a record saved before there was one has none.
        order: String,
        /// The registration.
        registration: String,
        /// Which vehicle it is, where the guide fits several; a record saved before there was one has none.
        vehicle: String,
        /// The vehicle identification number.
        vin: String,
        /// The odometer's reading, as entered.
        odometer: String,
        /// The technician's name.
        technician: String,
        /// The inspector's name.
        inspector: String,
        /// The day of the first entry, as ISO 8601, by the clock of the device.
        started: String,
        /// The day on which the technician signed, as ISO 8601, by the clock of the device; empty before.
        finished: String,
    }

    /// A torque applied.
    RecordTorque "A torque" {
        /// The operation, as in the ticks.
        operation: String,
        /// The torque as entered, with its unit.
        applied: String,
        /// The wrench; empty where it was not entered.
        wrench: String,
        /// Why the torque stays although it is not the one asked for.
        note: String,
    }

    /// A value measured.
    RecordMeasured "A value measured" {
        /// The operation, as in the ticks.
        operation: String,
        /// Which of the operation's values, from 1.
        value: u32,
        /// What was read off, with its unit.
        measured: String,
        /// Why it stays although it is not what is asked for.
        note: String,
    }

    /// A time of waiting that was clocked.
    RecordWait "A wait" {
        /// The step's anchor.
        step: String,
        /// When its clock was started, by the clock of the device, as local time to the minute: `2026-11-26 14:05`.
        started: String,
        /// When its clock runs out, in the same form; ahead of the file where that was saved before.
        ended: String,
        /// When the wait was ticked, in the same form; empty where it was not.
        ticked: String,
    }

    /// A note on a step.
    RecordNote "A note" {
        /// The step's anchor.
        step: String,
        /// The words. Who signed at a stop stands here as `Signed at the stop: NAME, 2026-11-26 14:05`, with the local time at which the name was entered; in older records without it.
        text: String,
    }

    /// Who signed.
    RecordSigned "The signatures" {
        /// Whether the technician signed.
        technician: bool,
        /// Whether the inspector signed.
        inspector: bool,
    }
}

/// The handbook's chapter.
pub fn chapter() -> Plain {
    let about = PlainSection {
        title: "What it is".to_owned(),
        paragraphs: [
            "The bay view of a guide keeps ticks, torques and notes on the device and saves them as one file, UTF-8 JSON laid out with two spaces. Nothing is sent anywhere. The same page opens the file again, on this device or another one.",
            "A file is refused by the page and the command for the same reasons and in the same words: it is larger than 2 MB, not UTF-8, not JSON or nested deeper than 16; a key stands twice in one object; a number is no whole count in plain digits; its seal does not hold, or anything but white space stands behind the seal and the brace that follows it; a field is missing or of another kind, a day or a time is none of the calendar, a wait ends before it began; two entries are for one thing, an option is both with and without; it belongs to another guide. A record of the guide as it stands is also refused where it names an option, a vehicle, a box, a torque, a value, a wait or a stop that the guide does not have, or options that cannot be on one vehicle. What is on the device stays then. The page takes a record of another state of the guide, says so, and can save it before work goes on; the command refuses it.",
            "`bayleaf print --record FILE` prints it on the checklist of its guide, with ticks, torques, notes and signatures filled in. It asks first whether the seal holds, and looks for the text that was worked to by its revision and fingerprint: the guide as it stands, or a revision that was issued, on which it is then printed. If neither is here it refuses the record and says why. Then it says what is missing or still open, in the words of the bay view: what was ticked as opened and not as closed again, boxes that are not ticked, torques and measured values that are not entered or are not the ones asked for and have no note, stops and the sheet without a signature, the registration, the technician's name. The list stands on the terminal and at the head of the sheet, and the exit status is 1.",
            "Into a field goes one number and one unit, and nothing else: `45 N·m`, `14.4 V`. The number is written with the digits 0 to 9, at most 12 of them; it may have a minus sign before it, and one point or comma with digits on both sides. Three digits behind a comma may be thousands, so `1,250` is refused; `1.250` and `0,125` are not. The unit follows it, with a space or without: for a torque any unit of torque, for a measured value one of those that the guide prints it in, in any spelling that a guide may use for it. Capitals count in symbols such as `mΩ` and `MΩ`, and not in words or in `nm`. Dots, hyphens and spaces may stand inside a unit such as `ft-lb`, and a full stop may follow it. No unit, two values, a fraction, a range, a turn behind the torque, a word behind the unit, a unit of another kind, letters or digits of another script are refused by the page and by `bayleaf print --record` in the same words. A refused entry stays in the record as it was typed, and is listed as missing until it is put right or a note says why it stays.",
            "A torque counts as the one asked for within its tolerance: that of its spec (`tolerance`), or of the shop file, or 4 % where neither says one, in each unit that the guide prints. A measured value counts within half a unit of the last digit that the guide prints in the unit it is entered in, because that is the scale it is read on. In a unit that the guide does not print, either counts where it does in one of the printed ones. A range, a tolerance beside the value or a limit counts as it stands: where a value must not be passed, write it as a limit. How far a wrench may be out is no part of it.",
            "A record is complete when somebody could vouch for it: of options of which exactly one holds, one is chosen; where the guide fits several vehicles, one is named; each torque names a torque wrench of the guide or the shop by its number, id or name, whose range holds the torque and whose calibration had not ended on the day of the work; a wait that is ticked had its clock run out; whoever signed at a stop, or as inspector, is not the technician. A note with an entry or on the step says why one stays all the same, but for signatures, options and the vehicle.",
        ]
        .map(str::to_owned)
        .to_vec(),
        ..PlainSection::default()
    };
    Plain {
        file: "record".to_owned(),
        title: "The as-built record".to_owned(),
        lead: "What stands in the file that the bay view saves, for programs that keep or read records.".to_owned(),
        group: "Reports".to_owned(),
        sections: std::iter::once(about).chain(PlainSection::of_objects(&objects())).chain(super::listing::sections()).collect(),
    }
}
