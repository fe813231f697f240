//! Records of a folder as rows: which vehicle, to which text, what is missing, which tools were used, what changed since. As text, as CSV
//! (RFC 4180) and as JSON. Which text a record is held against is decided by the command.

use std::collections::BTreeSet;

use super::{Record, measured, torque};
use crate::chapter::PlainSection;
use crate::described::objects;
use crate::document::Document;

/// What the field `format` says.
pub const FORMAT: &str = "bayleaf-records";
/// The version; it rises when a field changes its meaning or goes.
pub const VERSION: u32 = 1;

objects! {
    /// The list.
    Listing "The list of records" {
        /// Always `bayleaf-records`.
        format: &'static str,
        /// Which version of this description holds. It rises when a field changes its meaning or goes; fields may be added at any time.
        version: u32,
        /// The records that could be read, in the order of their files.
        records: Vec<RecordRow>,
        /// Files that are no records, or cannot be read.
        unread: Vec<Unread>,
    }

    /// A record.
    RecordRow "A record in a list" {
        /// Its file, from the folder that was read.
        file: String,
        /// The guide, as the record names it.
        guide: String,
        /// The document number.
        document: Option<String>,
        /// The revision that was worked to.
        revision: Option<String>,
        /// The fingerprint of the text that was worked to.
        fingerprint: String,
        /// The text that it was held against: `as issued`, `as it stands`, or why there is none.
        text: String,
        /// Whether it was held against the very text that was worked to.
        proven: bool,
        /// The number of the job.
        order: String,
        /// The vehicle, as entered.
        vehicle: String,
        /// The registration.
        registration: String,
        /// The vehicle identification number.
        vin: String,
        /// Options that the vehicle has, by id.
        with: Vec<String>,
        /// The technician.
        technician: String,
        /// The day of the first entry.
        started: String,
        /// The day on which the technician signed.
        finished: String,
        /// What is missing, still open or off, in the words of the bay view; nothing where there is no text to hold it against.
        missing: Vec<String>,
        /// How many values are not the ones asked for although a note says why.
        noted: usize,
        /// The numbers of wrenches as entered.
        wrenches: Vec<String>,
        /// With `--since`: what changed since in what applies to this vehicle and calls for a look, one phrase each.
        changed: Vec<String>,
    }

    /// A file that was not read.
    Unread "A file that was not read" {
        /// The file.
        file: String,
        /// Why.
        why: String,
    }
}

/// The row of a record before it is held against a text.
pub fn row(file: &str, record: &Record) -> RecordRow {
    let order = &record.order;
    let wrenches: BTreeSet<&str> = record.torques.iter().map(|torque| torque.wrench.trim()).filter(|wrench| !wrench.is_empty()).collect();
    RecordRow {
        file: file.to_owned(),
        guide: record.guide.slug.clone(),
        document: record.guide.document.clone(),
        revision: record.guide.revision.clone(),
        fingerprint: record.guide.fingerprint.clone(),
        text: String::new(),
        proven: false,
        order: order.order.clone(),
        vehicle: order.vehicle.clone(),
        registration: order.registration.clone(),
        vin: order.vin.clone(),
        with: record.options.with.clone(),
        technician: order.technician.clone(),
        started: order.started.clone(),
        finished: order.finished.clone(),
        missing: Vec::new(),
        noted: 0,
        wrenches: wrenches.into_iter().map(str::to_owned).collect(),
        changed: Vec::new(),
    }
}

/// How many values are not the ones asked for although a note says why.
pub fn noted(record: &Record, guide: &Document) -> usize {
    let mut count = 0;
    for operation in guide.steps().flat_map(|step| &step.operations) {
        if let (Some(asked), Some(entry)) = (&operation.torque, torque(record, &operation.id)) {
            count += usize::from(!entry.note.trim().is_empty() && super::judge(&entry.applied, asked).is_err());
        }
        for (at, value) in operation.values.iter().enumerate().filter(|(_, value)| value.bounds.is_some()) {
            let entry = measured(record, &operation.id, at + 1);
            count += usize::from(
                entry.is_some_and(|entry| !entry.note.trim().is_empty() && super::judge_measured(&entry.measured, value).is_err()),
            );
        }
    }
    count
}

impl RecordRow {
    /// Whether something is left to do: entries are missing or off, the text is not known, or what changed calls for a look.
    pub fn is_open(&self) -> bool {
        !self.missing.is_empty() || !self.proven || !self.changed.is_empty()
    }

    /// What the vehicle is called: its registration, else its identification number, else its file.
    pub fn vehicle_words(&self) -> &str {
        [&self.registration, &self.vin, &self.order].into_iter().find(|text| !text.trim().is_empty()).unwrap_or(&self.file)
    }
}

/// As text.
pub fn text(listing: &Listing) -> String {
    let mut out = String::new();
    let mut line = |text: &str| {
        out.push_str(text);
        out.push('\n');
    };
    for row in &listing.records {
        let revision = row.revision.as_ref().map_or("without revision".to_owned(), |revision| format!("rev. {revision}"));
        let done = if row.finished.is_empty() { "not signed".to_owned() } else { format!("signed {}", row.finished) };
        line(&format!("{}: {} {revision} ({}), {}, {done}", row.vehicle_words(), row.guide, row.fingerprint, row.text));
        line(&format!("    {}", row.file));
        if !row.wrenches.is_empty() {
            line(&format!("    wrenches: {}", row.wrenches.join(", ")));
        }
        if row.noted > 0 {
            line(&format!(
                "    {} not as asked for, with a note",
                if row.noted == 1 { "1 value".to_owned() } else { format!("{} values", row.noted) }
            ));
        }
        row.missing.iter().for_each(|missing| line(&format!("    missing: {missing}")));
        row.changed.iter().for_each(|changed| line(&format!("    changed since: {changed}")));
    }
    for Unread { file, why } in &listing.unread {
        line(&format!("not read: {file}: {why}"));
    }
    out
}

/// As CSV, with a heading and one line each; lists are parted by semicolons.
pub fn csv(listing: &Listing) -> String {
    const HEAD: [&str; 19] = [
        "file",
        "guide",
        "document",
        "revision",
        "fingerprint",
        "text",
        "proven",
        "order",
        "vehicle",
        "registration",
        "vin",
        "with",
        "technician",
        "started",
        "finished",
        "missing",
        "noted",
        "wrenches",
        "changed",
    ];
    let mut out = HEAD.join(",") + "\r\n";
    for row in &listing.records {
        let RecordRow {
            file,
            guide,
            document,
            revision,
            fingerprint,
            text,
            proven,
            order,
            vehicle,
            registration,
            vin,
            with,
            technician,
            started,
            finished,
            missing,
            noted,
            wrenches,
            changed,
        } = row;
        let fields: [&str; 19] = [
            file,
            guide,
            document.as_deref().unwrap_or_default(),
            revision.as_deref().unwrap_or_default(),
            fingerprint,
            text,
            if *proven { "yes" } else { "no" },
            order,
            vehicle,
            registration,
            vin,
            &with.join("; "),
            technician,
            started,
            finished,
            &missing.join("; "),
            &noted.to_string(),
            &wrenches.join("; "),
            &changed.join("; "),
        ];
        out.push_str(&fields.map(field).join(","));
        out.push_str("\r\n");
    }
    out
}

/// A field of CSV. A spreadsheet takes what starts with one of a few signs for a formula and runs it; these get an apostrophe.
fn field(text: &str) -> String {
    let guarded = if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text.to_owned() };
    if guarded.contains([',', '"', '\n', '\r']) { format!("\"{}\"", guarded.replace('"', "\"\"")) } else { guarded }
}

/// The handbook's sections.
pub fn sections() -> Vec<PlainSection> {
    let about = PlainSection {
        title: "A folder of records".to_owned(),
        paragraphs: [
            "`bayleaf records FOLDER` reads every file in the folder that ends in `.json`, in folders below it too, and holds each record against the text that it names by its fingerprint: a revision that was issued, or the guide as it stands. It tells which vehicle, which revision, what is missing or off, and which wrenches were used. A file that is no record, or that was changed, is named, and the rest is read.",
            "`--wrench NUMBER` leaves those that used a wrench, for instance one that was found out of calibration. `--since B` leaves those whose work was done to revision B or to an earlier one, and tells what changed since, in what applies to the vehicle's options, and calls for a look. `--as csv` and `--as json` are for other programs. The exit status is 1 where a file was not read or a record is open.",
        ]
        .map(str::to_owned)
        .to_vec(),
        ..PlainSection::default()
    };
    std::iter::once(about).chain(PlainSection::of_objects(&objects())).collect()
}

#[cfg(test)]
mod tests {
    use super::field;

    #[test]
    fn fields_are_quoted_and_run_nothing() {
        // RFC 4180, 2.5 to 2.7.
        assert_eq!(field("a,b"), "\"a,b\"");
        assert_eq!(field("say \"so\""), "\"say \"\"so\"\"\"");
        assert_eq!(field("plain"), "plain");
        assert_eq!(field("=1+1"), "'=1+1");
    }
}
