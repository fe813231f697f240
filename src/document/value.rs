//! A value as it is told: what it is, and how the shop's readers see it, worked out when the first of them asks. Converting exactly is
//! not cheap and a value stands in many places, so that copies of it share one spelling.

use std::hash::{Hash, Hasher};
use std::sync::{Arc, OnceLock};

use crate::guide::model::Shop;
pub use crate::quantity::Printed;
use crate::quantity::{self, Order, Quantity, System, Unit};

/// How a shop writes values.
#[derive(Clone, Copy, Debug, Hash, PartialEq, Eq)]
pub struct Ways {
    /// Which system of units stands first.
    pub order: Order,
    /// Whether a comma stands for the decimal point.
    pub decimal_comma: bool,
}

impl Ways {
    /// The ways of a shop.
    pub fn of(shop: &Shop) -> Self {
        let order = if shop.imperial_first { Order::ImperialFirst } else { Order::MetricFirst };
        Ways { order, decimal_comma: shop.language.decimal_comma() }
    }
}

/// What a value is.
#[derive(Clone, Debug, Hash)]
pub enum Told {
    /// What the author stated and was read.
    Quantity(Quantity),
    /// A designation, or a text that could not be read: words in the place of a value.
    Words(String),
    /// A torque that was worked out for another one, as a pass or the setting of a wrench.
    Worked(Worked),
    /// What nobody has told: a blank to fill in, never a guess, and why it is one.
    Untold(String),
}

/// What stands in the place of a value that nobody has told.
pub const BLANK: &str = "________";

/// A torque that was worked out.
#[derive(Clone, Debug)]
pub struct Worked {
    /// The lower end in newton-metres.
    pub low: f64,
    /// The upper end; the same where it is one value.
    pub high: f64,
    /// The units of the value it was worked out for: a wrench has one scale for all passes.
    pub units: Vec<&'static Unit>,
}

impl Hash for Worked {
    fn hash<H: Hasher>(&self, state: &mut H) {
        let Worked { low, high, units } = self;
        (low.to_bits(), high.to_bits(), units).hash(state);
    }
}

/// A value.
#[derive(Clone, Debug, Hash)]
pub struct Value(Arc<Inner>);

#[derive(Debug)]
struct Inner {
    told: Told,
    ways: Ways,
    unsure: bool,
    spelt: OnceLock<Printed>,
}

impl Hash for Inner {
    fn hash<H: Hasher>(&self, state: &mut H) {
        // How it is spelt follows from what it is.
        let Inner { told, ways, unsure, spelt: _ } = self;
        (told, ways, unsure).hash(state);
    }
}

impl Value {
    /// A value in the ways of a shop.
    pub fn new(told: Told, ways: Ways) -> Self {
        Value(Arc::new(Inner { told, ways, unsure: false, spelt: OnceLock::new() }))
    }

    /// A value that somebody only heard, which is said wherever it stands.
    pub fn unsure(told: Told, ways: Ways) -> Self {
        Value(Arc::new(Inner { told, ways, unsure: true, spelt: OnceLock::new() }))
    }

    /// What it is.
    pub fn told(&self) -> &Told {
        &self.0.told
    }

    /// What was read, where it is a stated value.
    pub fn quantity(&self) -> Option<&Quantity> {
        match &self.0.told {
            Told::Quantity(quantity) => Some(quantity),
            Told::Words(_) | Told::Worked(_) | Told::Untold(_) => None,
        }
    }

    /// Why there is no value, where nobody has told it.
    pub fn untold(&self) -> Option<&str> {
        match &self.0.told {
            Told::Untold(why) => Some(why),
            Told::Quantity(_) | Told::Words(_) | Told::Worked(_) => None,
        }
    }

    /// Whether inch and pound units stand first in [`Value::spelt`].
    pub fn imperial_first(&self) -> bool {
        self.0.ways.order == Order::ImperialFirst
    }

    /// As it is printed, in the shop's first units and in the others.
    pub fn spelt(&self) -> &Printed {
        self.0.spelt.get_or_init(|| {
            doubted(
                self.0.unsure,
                match &self.0.told {
                    Told::Quantity(quantity) => quantity::print(quantity, self.0.ways.order, self.0.ways.decimal_comma),
                    Told::Words(words) => Printed { first: words.clone(), second: None },
                    Told::Worked(worked) => spell_worked(worked, self.0.ways),
                    Told::Untold(why) => Printed { first: BLANK.to_owned(), second: Some(why.clone()) },
                },
            )
        })
    }

    /// The value in the units that stand first, and in the others as it stands behind them: that it is a limit is said once for both.
    pub fn pair(&self) -> (String, Option<String>) {
        let Printed { first, second } = self.spelt();
        (first.clone(), second.as_ref().map(|second| quantity::beside(first, second).to_owned()))
    }

    /// Both units in one line: `25 N·m (18 lb·ft)`, `max. 200 mm (7.8 in)`.
    pub fn in_line(&self) -> String {
        match self.pair() {
            (first, Some(second)) => format!("{first} ({second})"),
            (first, None) => first,
        }
    }
}

/// Says behind a value that it is only heard.
fn doubted(unsure: bool, printed: Printed) -> Printed {
    match (unsure, printed) {
        (false, printed) => printed,
        (true, Printed { first, second: Some(second) }) => Printed { first, second: Some(format!("{second}, unsure")) },
        (true, Printed { first, second: None }) => Printed { first: format!("{first}, unsure"), second: None },
    }
}

fn spell_worked(worked: &Worked, ways: Ways) -> Printed {
    let mut units = worked.units.clone();
    units.sort_by_key(|unit| (unit.system == System::Imperial) != (ways.order == Order::ImperialFirst));
    let mut written = units.into_iter().map(|unit| {
        let factor = unit.factor.estimate();
        let shown = |value: f64| if ways.decimal_comma { digits(value).replace('.', ",") } else { digits(value) };
        let (low, high) = (shown(worked.low / factor), shown(worked.high / factor));
        if low == high { format!("{low} {}", unit.symbol) } else { format!("{low} to {high} {}", unit.symbol) }
    });
    Printed { first: written.next().unwrap_or_default(), second: written.next() }
}

/// A torque or setting with as many digits as a scale shows.
fn digits(value: f64) -> String {
    if value < 20.0 { format!("{value:.1}") } else { format!("{value:.0}") }
}
