//! What a rule is: its name and weight, what it says to authors, examples, and its check. The rules
//! themselves stand one in a file under `rules`.

use std::cell::OnceCell;

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::ledger::Ledger;
use crate::guide::model::{Guide, Shop};
use crate::guide::names::Names;
use crate::guide::picture::Pictures;
use crate::review::believed::Disbelieved;
use crate::review::explained::{Explained, same};
use crate::review::sentences::Words;
use crate::source::{FileId, Place};

/// The families of rules, in the order of the handbook.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    /// Values and units.
    Values,
    /// Tightening.
    Tightening,
    /// What is opened is closed.
    Ledger,
    /// People.
    People,
    /// Wording.
    Wording,
    /// Wiring.
    Wiring,
    /// The document.
    Document,
}

impl Family {
    /// Every family, in the order of the handbook.
    pub const ALL: [Family; 7] =
        [Family::Values, Family::Tightening, Family::Ledger, Family::People, Family::Wording, Family::Wiring, Family::Document];

    /// The heading in the handbook.
    pub fn title(self) -> &'static str {
        match self {
            Family::Values => "Values and units",
            Family::Tightening => "Tightening",
            Family::Ledger => "What is opened is closed",
            Family::People => "People",
            Family::Wording => "Wording",
            Family::Wiring => "Wiring",
            Family::Document => "The document",
        }
    }

    /// The folder that the family's rules stand in.
    pub fn folder(self) -> &'static str {
        match self {
            Family::Values => "values",
            Family::Tightening => "tightening",
            Family::Ledger => "ledger",
            Family::People => "people",
            Family::Wording => "wording",
            Family::Wiring => "wiring",
            Family::Document => "document",
        }
    }
}

/// How a rule comes to its findings.
#[derive(Clone, Copy)]
pub enum Check {
    /// The front end reports it while it reads; the rule's file explains it.
    WhileReading,
    /// It looks at one guide.
    Guide(fn(&Subject<'_, '_>, &mut Vec<Finding>)),
    /// It looks at one guide, and at the shop file.
    GuideAndShop(fn(&Subject<'_, '_>, &mut Vec<Finding>), fn(&Shop, FileId, &mut Vec<Finding>)),
    /// It looks at the shop file.
    Shop(fn(&Shop, FileId, &mut Vec<Finding>)),
    /// It looks at all guides together; the review calls it by name.
    WholeShop,
}

/// One rule.
#[derive(Clone, Copy)]
pub struct Rule {
    /// The name, after the fault.
    pub name: RuleName,
    /// Its family.
    pub family: Family,
    /// The weight of its findings, unless the finding says otherwise.
    pub severity: Severity,
    /// The check.
    pub check: Check,
    /// What it says to authors.
    pub text: Explained,
}

impl Rule {
    /// A rule; `file` is the text of `<rule>.md`. A file of another rule, or in another form, does not compile.
    pub(crate) const fn new(name: RuleName, family: Family, severity: Severity, check: Check, file: &'static str) -> Rule {
        let text = Explained::read(file);
        assert!(same(text.name, name.name()), "the file beside a rule is that of another one");
        Rule { name, family, severity, check, text }
    }

    /// A finding of this rule with its usual weight.
    pub fn at(&self, place: Place, message: impl Into<String>, remedy: impl Into<String>) -> Finding {
        Finding::new(self.name, self.severity, place, message, remedy)
    }

    /// Whether an author may accept its findings with a reason. What could not be read cannot be accepted.
    pub fn can_be_accepted(&self) -> bool {
        !matches!(self.check, Check::WhileReading)
    }
}

/// What a rule looks at.
#[derive(Clone, Copy)]
pub struct Subject<'g, 's> {
    /// The guide.
    pub guide: &'g Guide<'s>,
    /// The shop.
    pub shop: &'g Shop,
    /// What ids stand for.
    pub names: Names<'g>,
    /// What is opened, closed, taken off and put on, for every combination of options.
    pub ledger: &'g Ledger<'g>,
    /// Torques that are hard to believe, worked out when the first rule asks.
    pub(crate) disbelieved: &'g OnceCell<Vec<Disbelieved>>,
    /// The guide's pictures.
    pub pictures: &'g Pictures,
    /// Whether a guide of this slug exists in the shop.
    pub guide_exists: &'g (dyn Fn(&str) -> bool + Sync),
    /// The guide's words taken apart, once a rule has asked for them.
    pub(crate) taken_apart: &'g OnceCell<Words>,
}

impl<'g> Subject<'g, '_> {
    /// The guide's words taken apart.
    pub(crate) fn words(&self) -> &'g Words {
        // The one door to what a guide says in sentences. Where its language is not read it is closed, and `words-unread` says so.
        self.taken_apart.get_or_init(|| if self.shop.language.is_read() { Words::new(self.guide) } else { Words::unread(self.guide) })
    }
}
