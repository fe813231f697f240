//! From which voltage on a circuit can kill: the limits of extra-low voltage. What a guide must say of such a circuit is left to the review.

use crate::quantity::Exact;

/// The sort of voltage, as far as a text says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Supply {
    /// Alternating.
    Ac,
    /// Direct.
    Dc,
    /// The text does not say.
    NotStated,
}

impl Supply {
    /// What a stated voltage says of itself: "230 V AC", "48 V DC", "230 V~", "12 V".
    pub fn of(text: &str) -> Self {
        let folded: String = text.to_lowercase().chars().filter(|c| !matches!(c, '.' | ' ' | '\u{a0}' | '\u{202f}')).collect();
        if folded.contains("vac") || folded.contains('~') || folded.ends_with("ac") {
            Self::Ac
        } else if folded.contains("vdc") || folded.ends_with("dc") {
            Self::Dc
        } else {
            Self::NotStated
        }
    }
}

/// Whether a voltage is above extra-low voltage: 50 V alternating or 120 V direct (IEC 61140; IEV and a public page on it, looked up).
///
/// Where the text does not say which, it is taken for alternating from 100 V on: no mains of the world lies below, and the batteries of
/// vehicles that are built at 48 V are up to 58 V while they charge.
pub fn is_mains(volts: Exact, supply: Supply) -> bool {
    match supply {
        Supply::Ac => volts > Exact::whole(50),
        Supply::Dc => volts > Exact::whole(120),
        Supply::NotStated => volts >= Exact::whole(100),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_limits_of_extra_low_voltage_hold() {
        for (text, volts, expected) in [
            ("12 V", 12, false),
            ("24 V DC", 24, false),
            ("48 V", 48, false),
            ("58 V", 58, false),
            ("50 V AC", 50, false),
            ("120 V DC", 120, false),
            ("51 V AC", 51, true),
            ("110 V", 110, true),
            ("121 V DC", 121, true),
            ("230 V AC", 230, true),
            ("230 V~", 230, true),
            ("230 Vac", 230, true),
            // Each way to say it, by itself and between other words.
            ("60 V AC 50 Hz", 60, true),
            ("60 V~ 50 Hz", 60, true),
            ("60 V 50 Hz AC", 60, true),
            ("110 V DC nominal", 110, false),
            ("110 V, nominal DC", 110, false),
            ("400 V d.c.", 400, true),
            ("230 V", 230, true),
        ] {
            assert_eq!(is_mains(Exact::whole(volts), Supply::of(text)), expected, "{text}");
        }
        assert_eq!(Supply::of("230 V a.c."), Supply::Ac);
        assert_eq!(Supply::of("12 V"), Supply::NotStated);
    }
}
