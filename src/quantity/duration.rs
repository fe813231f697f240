//! Durations for machines (ISO 8601) and in hours and minutes for people.
//! Adding durations up is left to whoever counts them; the author's own spelling is left to `print`.

use super::exact::{Exact, Rounding, place_point};
use super::{Form, Quantity};

/// A duration as ISO 8601 writes it: "PT1H30M". Of a range or limit it is the longest stated time, which a plan has to allow.
///
/// Hours are not gathered into days, since a day in a workshop is not 24 hours. For a quantity that is not a time it is "PT0S".
pub fn duration_iso(quantity: &Quantity) -> String {
    let (low, high) = seconds(quantity);
    iso(high.or(low).unwrap_or(Exact::ZERO))
}

/// A number of minutes as ISO 8601 writes it: 90 is "PT1H30M". Below nought it is "PT0S".
pub fn duration_iso_minutes(minutes: Exact) -> String {
    iso(minutes.times(Exact::whole(60)).unwrap_or(Exact::ZERO))
}

/// A duration in hours, minutes and seconds: "1 h 30 min", "1 h 30 min to 2 h", "max. 2 h".
pub fn duration_words(quantity: &Quantity) -> String {
    match (seconds(quantity), &quantity.leading().form) {
        ((_, Some(high)), Form::Max(_)) => format!("max. {}", words(high)),
        ((Some(low), _), Form::Min(_)) => format!("min. {}", words(low)),
        ((Some(low), Some(high)), _) if low != high => format!("{} to {}", words(low), words(high)),
        ((low, high), _) => words(low.or(high).unwrap_or(Exact::ZERO)),
    }
}

fn seconds(quantity: &Quantity) -> (Option<Exact>, Option<Exact>) {
    if quantity.dimension == super::Dimension::Time { quantity.base_bounds() } else { (None, None) }
}

fn iso(seconds: Exact) -> String {
    let (hours, minutes, rest) = parts(seconds);
    let mut text = String::from("PT");
    if hours > 0 {
        text.push_str(&format!("{hours}H"));
    }
    if minutes > 0 {
        text.push_str(&format!("{minutes}M"));
    }
    if rest.is_some() || text == "PT" {
        text.push_str(&format!("{}S", rest.unwrap_or_else(|| "0".to_owned())));
    }
    text
}

fn words(seconds: Exact) -> String {
    let (hours, minutes, rest) = parts(seconds);
    let mut parts = Vec::new();
    if hours > 0 {
        parts.push(format!("{hours} h"));
    }
    if minutes > 0 {
        parts.push(format!("{minutes} min"));
    }
    if let Some(rest) = rest {
        parts.push(format!("{rest} s"));
    }
    if parts.is_empty() { "0 min".to_owned() } else { parts.join(" ") }
}

// Whole hours, whole minutes and, if there are any, the seconds left over to the millisecond.
fn parts(seconds: Exact) -> (i128, i128, Option<String>) {
    let thousandths = seconds.rounded(3, Rounding::Nearest).unwrap_or(0).max(0);
    let (hours, rest) = (thousandths / 3_600_000, thousandths % 3_600_000);
    let (minutes, rest) = (rest / 60_000, rest % 60_000);
    let text = place_point(rest, 3, '.');
    let text = text.trim_end_matches('0').trim_end_matches('.');
    (hours, minutes, (rest > 0).then(|| text.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::super::{Dimension, Options, read};
    use super::*;

    #[test]
    fn durations_are_written_for_machines_and_people() {
        for (text, machine, people) in [
            ("90 min", "PT1H30M", "1 h 30 min"),
            ("1.5..2 h", "PT2H", "1 h 30 min to 2 h"),
            ("10 s", "PT10S", "10 s"),
            ("0.5 s", "PT0.5S", "0.5 s"),
            ("max 2 h", "PT2H", "max. 2 h"),
            ("0 min", "PT0S", "0 min"),
            ("2 d", "PT48H", "48 h"),
        ] {
            let quantity = read(text, Dimension::Time, &Options::default()).quantity.expect("the text has a value");
            assert_eq!((duration_iso(&quantity).as_str(), duration_words(&quantity).as_str()), (machine, people), "{text}");
        }
        assert_eq!(duration_iso_minutes(Exact::whole(90)), "PT1H30M");
        assert_eq!(duration_iso_minutes(Exact::whole(-5)), "PT0S");
    }
}
