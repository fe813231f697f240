//! Keys whose text is a value: quantities with their units, sizes of drills, gauges of wires and torques. What is wrong with one becomes a
//! finding at its characters, and the value is carried as it is written.

use toml::de::DeValue;

use crate::fastener::hole;
use crate::finding::{Finding, RuleName};
use crate::guide::facts::{Fields, Reader, is_id};
use crate::guide::model::{Stated, Text, TorqueRef};
use crate::quantity::{self, Dimension, FaultKind, Quantity};
use crate::source::Spanned;
use crate::wiring::{Section, read_section};

impl Reader {
    /// A value with its unit.
    pub fn value(&mut self, fields: &Fields<'_>, name: &'static str, dimension: Dimension) -> Option<Spanned<Stated>> {
        let (default_unit, heard) = ((name == "hours").then_some("h"), self.untold.len());
        let text = match fields.get(name)?.get_ref() {
            // Hours may be written as a bare number; everything else needs its unit and so its quotes.
            DeValue::Integer(_) | DeValue::Float(_) if default_unit.is_some() => {
                let value = fields.get(name)?;
                Spanned::new(fields.body.get(value.span()).unwrap_or_default().to_owned(), fields.shift(value.span()))
            }
            _ => self.text(fields, name)?,
        };
        Some(self.stated(text, dimension, default_unit, self.untold.len() > heard))
    }

    /// The wire gauge that stands in the place of an area, as text; none where an area stands there, or nothing.
    pub fn gauge(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<Text> {
        let DeValue::String(written) = fields.get(name)?.get_ref() else { return None };
        let options = quantity::Options { decimal_comma: self.decimal_comma, default_unit: None };
        let written = written.split("unsure").next().unwrap_or_default().trim_end_matches([' ', ',']);
        matches!(read_section(written, &options), Ok(Section::Awg(_))).then(|| self.text(fields, name))?
    }

    /// The size of a drill: a diameter with its unit, or the number or letter that it is sold by. It is carried as it is written.
    pub fn drill(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<Text> {
        let text = self.text(fields, name)?;
        let options = quantity::Options { decimal_comma: self.decimal_comma, default_unit: None };
        let written = text.value.trim();
        let bare = ["Ø", "ø", "⌀", "∅"].iter().find_map(|sign| written.strip_prefix(sign)).unwrap_or(written).trim_start();
        // A decimal comma is told elsewhere for values that are reckoned with; this one is only printed.
        let pointed = bare.replace(',', ".");
        let read = |text: &str| {
            let reading = quantity::read(text, Dimension::Length, &options);
            let positive = |quantity: &Quantity| quantity.base_bounds().1.is_some_and(|high| high.numerator() > 0);
            reading.faults.is_empty() && reading.quantity.as_ref().is_some_and(positive)
        };
        if !read(bare) && !read(&pointed) && !hole::is_drill_name(written) {
            let message = format!("\"{}\" is no size of a drill", text.value);
            let remedy = "write its diameter with the unit, such as 9 mm or 3/8 in, or its number or letter, such as #7 or F";
            self.findings.push(Finding::hold(RuleName::ValueUnreadable, self.place(text.span), message, remedy));
        }
        Some(text)
    }

    fn stated(&mut self, text: Text, dimension: Dimension, default_unit: Option<&'static str>, unsure: bool) -> Spanned<Stated> {
        let options = quantity::Options { decimal_comma: self.decimal_comma, default_unit };
        let reading = quantity::read(&text.value, dimension, &options);
        let exact = (text.span.end - text.span.start) as usize == text.value.len();
        // A refused value is shown as written and never as what it was taken for; two that disagree are both shown.
        let refused = reading.faults.iter().any(|fault| !matches!(fault.kind, FaultKind::Disagree | FaultKind::RangeReversed));
        if let (Dimension::Torque, Some((_, Some(high)))) = (dimension, reading.quantity.as_ref().map(Quantity::base_bounds))
            && high.numerator() == 0
        {
            let message = format!("a torque of {} tightens nothing", text.value);
            self.findings.push(Finding::hold(
                RuleName::ValueUnreadable,
                self.place(text.span),
                message,
                "write the torque that its source gives",
            ));
        }
        for fault in reading.faults {
            let span = if exact { text.span.part(fault.range.clone()) } else { text.span };
            let mut finding = Finding::hold(rule_of(fault.kind), self.place(span), fault.message, fault.remedy);
            if let (Some(replacement), true) = (fault.replacement, exact) {
                // A decimal comma has one reading. Which unit was meant is judged from the value beside it: a guess.
                finding = match fault.kind {
                    FaultKind::ValueUnreadable => finding.with_edit(span, replacement),
                    _ => finding.with_suggestion(span, replacement),
                };
            }
            self.findings.push(finding);
        }
        Spanned::new(Stated { text: text.value, quantity: reading.quantity.filter(|_| !refused), unsure }, text.span)
    }

    /// A torque in place, or the id of a spec.
    pub fn torque(&mut self, fields: &Fields<'_>, name: &'static str) -> Option<TorqueRef> {
        let heard = self.untold.len();
        let text = self.text(fields, name)?;
        if is_id(&text.value) {
            Some(TorqueRef::Spec(text))
        } else {
            Some(TorqueRef::InPlace(Box::new(self.stated(text, Dimension::Torque, None, self.untold.len() > heard))))
        }
    }
}

fn rule_of(kind: FaultKind) -> RuleName {
    match kind {
        FaultKind::UnitUnknown => RuleName::UnitUnknown,
        FaultKind::UnitAmbiguous => RuleName::UnitAmbiguous,
        FaultKind::ValueUnreadable => RuleName::ValueUnreadable,
        FaultKind::RangeReversed => RuleName::RangeReversed,
        FaultKind::Disagree => RuleName::DualDisagree,
    }
}
