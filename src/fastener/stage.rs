//! The passes in which a torque is reached: percentages or values, a turn by an angle, and a check pass.
//! In which order the bolts of one pass are taken is left to `pattern`.

use super::{Objection, shortened};
use crate::quantity::{self, Dimension, Exact, Form, Options, Quantity, Statement};

/// One pass.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Tighten to this share of the final torque; one is the whole. None where the stage is a value and no final torque is known.
    Torque(Option<Exact>),
    /// Turn further by this angle.
    Turn(Statement),
    /// Go round once more at the full torque until nothing turns.
    Check,
}

/// The passes of a text list, as far as they could be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Stages {
    /// Each pass with the number of its text, from nought on.
    pub stages: Vec<(usize, Stage)>,
    /// What is wrong, each with the number of the text it is about.
    pub objections: Vec<(usize, Objection)>,
}

/// Reads the passes and holds them against the final torque: they have to rise, none may be above it, and the last has to reach it.
///
/// A text is a percentage ("50 %"), a torque, an angle to turn further, or a check pass: "100 %" once more, "check 100 %", "check pass".
pub fn read(texts: &[&str], torque: Option<&Quantity>, options: &Options) -> Stages {
    let mut read = Stages::default();
    for (index, text) in texts.iter().enumerate() {
        match stage(text, torque, options) {
            Ok(stage) => read.stages.push((index, stage)),
            Err(objection) => read.objections.push((index, objection)),
        }
    }
    // A text that cannot be read might be the one that is missed.
    if read.objections.is_empty() {
        read.settle(texts);
    }
    read
}

impl Stages {
    /// The share of the final torque that each pass reaches, for a page to work values out from; check passes and turns are at the whole.
    pub fn shares(&self) -> impl Iterator<Item = Option<Exact>> {
        self.stages.iter().map(|(_, stage)| match stage {
            Stage::Torque(share) => *share,
            Stage::Turn(_) | Stage::Check => Some(Exact::ONE),
        })
    }

    fn settle(&mut self, texts: &[&str]) {
        let mut before: Option<Exact> = None;
        let mut turned = false;
        for at in 0..self.stages.len() {
            let (index, stage) = self.stages[at].clone();
            let text = shortened(texts[index].trim());
            let mut object = |message: String, remedy: &str| self.objections.push((index, Objection::new(message, remedy)));
            match stage {
                Stage::Turn(_) => turned = true,
                Stage::Torque(Some(share)) if share > Exact::ONE => {
                    object(format!("a pass of {text} is above the final torque"), "end at 100 % of it");
                }
                Stage::Torque(Some(_)) if turned => {
                    object(format!("a pass of {text} comes after the turn by an angle"), "turn by the angle last");
                }
                Stage::Torque(Some(share)) => {
                    let whole = share == Exact::ONE;
                    if before.is_some_and(|before| before == Exact::ONE) && whole {
                        self.stages[at].1 = Stage::Check;
                    } else if before.is_some_and(|before| before >= share) {
                        let last = shortened(texts[self.stages[at - 1].0].trim());
                        object(
                            format!("a pass of {text} after one of {last} does not rise"),
                            "write the passes from the lowest to the highest",
                        );
                    }
                    before = Some(share);
                }
                Stage::Check if before != Some(Exact::ONE) => {
                    object(format!("\"{text}\" checks a torque that no pass before it reaches"), "put a pass of 100 % before it");
                }
                Stage::Torque(None) | Stage::Check => {}
            }
        }
        let known = self.stages.iter().all(|(_, stage)| *stage != Stage::Torque(None));
        if let Some((last, _)) = self.stages.last().filter(|_| known && self.objections.is_empty() && before != Some(Exact::ONE)) {
            let text = shortened(texts[*last].trim());
            self.objections
                .push((*last, Objection::new(format!("the passes end at {text}, below the final torque"), "end at 100 % of it")));
        }
    }
}

fn stage(text: &str, torque: Option<&Quantity>, options: &Options) -> Result<Stage, Objection> {
    let lower = text.trim().to_lowercase();
    let figure = lower.trim_start_matches("check").trim_start_matches([':', ' ']).trim_end_matches("again").trim();
    if figure != lower && matches!(figure, "" | "pass" | "100 %" | "100%") {
        return Ok(Stage::Check);
    }
    if let Some(share) = percent(figure) {
        return share.filter(|share| *share > Exact::ZERO).map(|share| Stage::Torque(Some(share))).ok_or_else(|| unreadable(text));
    }
    let turn = quantity::read(text.trim().trim_start_matches('+'), Dimension::Angle, options);
    if let (Some(angle), true) = (turn.quantity, turn.faults.is_empty()) {
        return Ok(Stage::Turn(angle.leading().clone()));
    }
    let value = quantity::read(text, Dimension::Torque, options);
    match value.quantity {
        Some(stated) if value.faults.is_empty() => Ok(Stage::Torque(torque.and_then(|torque| share(&stated, torque)))),
        _ => Err(unreadable(text)),
    }
}

fn unreadable(text: &str) -> Objection {
    let text = shortened(text.trim());
    Objection::new(
        format!("\"{text}\" is no pass that can be read"),
        "write a share such as \"50 %\", a torque, or an angle to turn further",
    )
}

/// A percentage as a share; none inside where its figure cannot be read.
fn percent(text: &str) -> Option<Option<Exact>> {
    let figure = text.strip_suffix('%').or_else(|| text.strip_suffix("percent")).or_else(|| text.strip_suffix("per cent"))?.trim();
    let figure = figure.replace(',', ".");
    let (whole, part) = figure.split_once('.').unwrap_or((&figure, ""));
    let digits = format!("{whole}{part}");
    let plain = !whole.is_empty() && digits.len() <= 9 && digits.bytes().all(|b| b.is_ascii_digit());
    Some(plain.then(|| Exact::from_decimal(digits.parse().ok()?, part.len() as u32 + 2)).flatten())
}

/// The share of the final torque that a stated one is. Within the rounding of their digits, equal is the whole.
fn share(stated: &Quantity, torque: &Quantity) -> Option<Exact> {
    if quantity::same(stated, torque) {
        return Some(Exact::ONE);
    }
    aim(stated)?.over(aim(torque)?)
}

/// The value aimed at, in the base unit: the middle of a range, the nominal value of a tolerance.
fn aim(quantity: &Quantity) -> Option<Exact> {
    let leading = quantity.leading();
    if let Form::Tolerance { nominal, .. } = &leading.form {
        return leading.unit.to_base(nominal.value);
    }
    match leading.base_bounds() {
        (Some(low), Some(high)) => low.plus(high)?.times(Exact::ratio(1, 2)),
        (low, high) => high.or(low),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn torque(text: &str) -> Quantity {
        quantity::read(text, Dimension::Torque, &Options::default()).quantity.expect("a torque")
    }

    fn messages(texts: &[&str], of: &str) -> Vec<(usize, String)> {
        let read = read(texts, Some(&torque(of)), &Options::default());
        read.objections.into_iter().map(|(index, objection)| (index, objection.message)).collect()
    }

    #[test]
    fn good_passes_are_read() {
        for (texts, of) in [
            (&["50 %", "100 %"][..], "16 N·m"),
            (&["30%", "70 %", "100 percent", "100 %"], "80 N·m (59 lb·ft)"),
            (&["30 %", "60 %", "100 %", "100 % again"], "80 N·m"),
            (&["12,5 %", "100 %", "check 100 %"], "80 N·m"),
            (&["20 N·m", "40 N·m", "80 N·m", "check pass"], "80 N·m"),
            (&["15 lb·ft", "59 lb·ft"], "80 N·m (59 lb·ft)"),
            (&["50 %", "100 %", "90°"], "100 N·m + 90°"),
            (&["40 N·m", "100 N·m", "90°", "90°"], "100 N·m"),
            (&["3 N·m", "6 N·m"], "5..7 N·m"),
            (&["50 %", "6 N·m"], "6 ± 1 N·m"),
            (&[], "6 N·m"),
        ] {
            assert_eq!(messages(texts, of), [], "{texts:?}");
        }
        let read = read(&["30 %", "100 %", "100 %"], None, &Options::default());
        assert_eq!(read.stages[2].1, Stage::Check);
        assert_eq!(read.shares().collect::<Vec<_>>(), [Some(Exact::ratio(3, 10)), Some(Exact::ONE), Some(Exact::ONE)]);
    }

    #[test]
    fn bad_passes_are_objected_to_at_their_place() {
        for (texts, at, message) in [
            (&["50 %", "40 %", "100 %"][..], 1, "a pass of 40 % after one of 50 % does not rise"),
            (&["50 %", "50 %", "100 %"], 1, "a pass of 50 % after one of 50 % does not rise"),
            (&["50 %", "110 %"], 1, "a pass of 110 % is above the final torque"),
            (&["50 %", "90 %"], 1, "the passes end at 90 %, below the final torque"),
            (&["half", "100 %"], 0, "\"half\" is no pass that can be read"),
            (&["x %", "100 %"], 0, "\"x %\" is no pass that can be read"),
            (&["0 %", "100 %"], 0, "\"0 %\" is no pass that can be read"),
            (&["20 N·m", "90 N·m"], 1, "a pass of 90 N·m is above the final torque"),
            (&["50 %", "90°", "100 %"], 2, "a pass of 100 % comes after the turn by an angle"),
            (&["50 %", "check pass", "100 %"], 1, "\"check pass\" checks a torque that no pass before it reaches"),
        ] {
            assert_eq!(messages(texts, "80 N·m"), [(at, message.to_owned())], "{texts:?}");
        }
    }
}
