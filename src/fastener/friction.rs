//! How the state of a thread turns torque into preload: nut factors and coefficients of friction with their sources.
//! What they make of a torque is left to `limit`.

/// The state of the thread that a torque is given for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Condition {
    /// Nothing is said.
    #[default]
    NotStated,
    /// Clean and dry.
    Dry,
    /// Oiled or greased.
    Oiled,
    /// With liquid or patch thread-locker.
    ThreadLocker,
    /// With anti-seize paste.
    AntiSeize,
    /// As it came: plated, waxed or plain.
    AsSupplied,
}

impl Condition {
    /// The condition of this word in a guide: "dry", "oiled", "thread-locker", "anti-seize", "as-supplied".
    pub fn named(word: &str) -> Option<Self> {
        Some(match word {
            "dry" => Self::Dry,
            "oiled" => Self::Oiled,
            "thread-locker" => Self::ThreadLocker,
            "anti-seize" => Self::AntiSeize,
            "as-supplied" => Self::AsSupplied,
            _ => return None,
        })
    }

    /// The state in words, for a sentence.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::NotStated => "a thread whose state is not stated",
            Self::Dry => "a dry thread",
            Self::Oiled => "an oiled thread",
            Self::ThreadLocker => "a thread with thread-locker",
            Self::AntiSeize => "a thread with anti-seize paste",
            Self::AsSupplied => "a thread as supplied",
        }
    }
}

/// How a fastener turns torque into preload, in a state of its thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Friction {
    /// Lowest nut factor that is met.
    pub low: f64,
    /// Usual nut factor.
    pub usual: f64,
    /// Highest nut factor that is met.
    pub high: f64,
    /// Highest coefficient of friction, in thread and under head, that answers to it.
    pub coefficient: f64,
    /// Where the figures come from.
    pub source: &'static str,
}

const fn friction(low: f64, usual: f64, high: f64, coefficient: f64, source: &'static str) -> Friction {
    Friction { low, usual, high, coefficient, source }
}

/// The friction of a state of the thread; stainless steel on itself has its own.
///
/// The usual factors are those of Shigley, Mechanical Engineering Design, 9th edition, table 8-15 (black 0.30, zinc 0.20, lubricated 0.18,
/// anti-seize 0.12). The ends add the scatter of a torque wrench that NASA's guidance gives: 35 % unlubricated, 25 % lubricated.
pub fn friction_of(condition: Condition, stainless: bool) -> Friction {
    const CATALOGUE: &str = "friction 0.1 to 0.3 of catalogue tables for stainless bolts, widened upward for galling";
    if stainless && !matches!(condition, Condition::Oiled | Condition::AntiSeize) {
        return friction(0.12, 0.25, 0.45, 0.40, CATALOGUE);
    }
    match condition {
        // Dry is said of zinc-plated and of black bolts alike, and published tables for dry threads keep to what the plated one bears: a
        // usual factor between the two would let pass, of a thread that is called dry, what is doubted where nothing is said.
        Condition::Dry => {
            friction(0.13, 0.20, 0.40, 0.33, "zinc-plated 0.20, up to dry black 0.40 (Shigley table 8-15, scatter 35 % by NASA)")
        }
        Condition::Oiled => friction(0.135, 0.18, 0.225, 0.17, "lubricated 0.18 (Shigley table 8-15), scatter 25 % (NASA)"),
        // No published figure was found: wet it slides as oil does, cured or as a patch it drags.
        Condition::ThreadLocker => {
            friction(0.135, 0.20, 0.27, 0.21, "between lubricated and zinc-plated (Shigley table 8-15), by common practice")
        }
        // Pastes differ: some are hardly better than oil.
        Condition::AntiSeize => {
            friction(0.09, 0.15, 0.225, 0.17, "between anti-seize 0.12 and lubricated 0.18 (Shigley table 8-15), scatter 25 % (NASA)")
        }
        // Zinc-plated is what fittings come with; wax makes it less and a black bolt more.
        Condition::AsSupplied | Condition::NotStated => {
            friction(0.09, 0.20, 0.40, 0.33, "zinc-plated 0.20, from waxed 0.09 to dry black 0.40 (Shigley table 8-15, scatter by NASA)")
        }
    }
}
