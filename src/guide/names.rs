//! Finds what an id stands for: the guide's own definition first, the shop's behind it.

use crate::guide::model::{Caution, Consumable, Definitions, Guide, Hardware, Item, Part, Shop, Spec, Step, Tool, Vehicle};
use crate::source::FileId;

/// Something an operation can act on.
#[derive(Clone, Copy, Debug)]
pub enum Thing<'g> {
    /// A part of the kit.
    Part(&'g Part),
    /// Fasteners.
    Hardware(&'g Hardware),
    /// A thing on the vehicle, or a connector.
    Item(&'g Item),
}

impl<'g> Thing<'g> {
    /// What messages call this sort of thing.
    pub fn sort(self) -> &'static str {
        match self {
            Thing::Part(_) => "part",
            Thing::Hardware(_) => "hardware",
            Thing::Item(item) if item.connector => "connector",
            Thing::Item(_) => "item",
        }
    }

    /// What makes work on it dangerous or licensed.
    pub fn marks(self) -> &'g [crate::guide::model::Text] {
        match self {
            Thing::Part(part) => &part.marks,
            Thing::Hardware(_) => &[],
            Thing::Item(item) => &item.marks,
        }
    }

    /// Where its id is given.
    pub fn id(self) -> &'g crate::guide::model::Text {
        match self {
            Thing::Part(part) => &part.id,
            Thing::Hardware(hardware) => &hardware.id,
            Thing::Item(item) => &item.id,
        }
    }

    /// The name on the page.
    pub fn name(self) -> &'g str {
        match self {
            Thing::Part(part) => part.name.as_str(),
            Thing::Hardware(hardware) => hardware.name.as_str(),
            Thing::Item(item) => item.name.as_str(),
        }
    }
}

/// The definitions that are in sight of a guide.
#[derive(Clone, Copy, Debug)]
pub struct Names<'g> {
    own: &'g Definitions,
    shared: &'g Definitions,
    own_file: FileId,
    shop_file: Option<FileId>,
}

impl<'g> Names<'g> {
    /// What `guide` can refer to.
    pub fn new(guide: &'g Guide<'_>, shop: &'g Shop) -> Self {
        Names { own: &guide.own, shared: &shop.shared, own_file: guide.file, shop_file: shop.file }
    }

    /// What the shop file itself can refer to.
    pub fn of_shop(shop: &'g Shop) -> Self {
        Names { own: &shop.shared, shared: &shop.shared, own_file: shop.file.unwrap_or_default(), shop_file: shop.file }
    }

    /// The guide's own definitions and the shop's.
    pub fn both(&self) -> [&'g Definitions; 2] {
        [self.own, self.shared]
    }

    /// The spec with this id.
    pub fn spec(&self, id: &str) -> Option<&'g Spec> {
        self.own.specs.get(id).or_else(|| self.shared.specs.get(id))
    }

    /// The hardware with this id.
    pub fn hardware(&self, id: &str) -> Option<&'g Hardware> {
        self.own.hardware.get(id).or_else(|| self.shared.hardware.get(id))
    }

    /// The part with this id.
    pub fn part(&self, id: &str) -> Option<&'g Part> {
        self.own.parts.get(id).or_else(|| self.shared.parts.get(id))
    }

    /// The item or connector with this id.
    pub fn item(&self, id: &str) -> Option<&'g Item> {
        self.own.items.get(id).or_else(|| self.shared.items.get(id))
    }

    /// The tool with this id.
    pub fn tool(&self, id: &str) -> Option<&'g Tool> {
        self.own.tools.get(id).or_else(|| self.shared.tools.get(id))
    }

    /// What is used up under this id.
    pub fn consumable(&self, id: &str) -> Option<&'g Consumable> {
        self.own.consumables.get(id).or_else(|| self.shared.consumables.get(id))
    }

    /// The caution with this id.
    pub fn caution(&self, id: &str) -> Option<&'g Caution> {
        self.own.cautions.get(id).or_else(|| self.shared.cautions.get(id))
    }

    /// The vehicle with this id.
    pub fn vehicle(&self, id: &str) -> Option<&'g Vehicle> {
        self.shared.vehicles.get(id)
    }

    /// The full name of a source.
    pub fn source(&self, id: &str) -> Option<&'g str> {
        let own = self.own.sources.get(id).or_else(|| self.shared.sources.get(id));
        own.map(|(_, name)| name.as_str())
    }

    /// What an operation acts on.
    pub fn thing(&self, id: &str) -> Option<Thing<'g>> {
        self.both().into_iter().find_map(|definitions| {
            let item = definitions.items.get(id).map(Thing::Item);
            item.or_else(|| definitions.parts.get(id).map(Thing::Part)).or_else(|| definitions.hardware.get(id).map(Thing::Hardware))
        })
    }

    /// The id of a thing as it was meant: a misspelt one counts as the near one, so that the slip is told once.
    pub fn meant(&self, id: &'g str) -> &'g str {
        if self.thing(id).is_some() {
            return id;
        }
        let known = self.both().into_iter().flat_map(|names| {
            let items = names.items.rows.iter().map(|row| row.id.as_str());
            let parts = names.parts.rows.iter().map(|row| row.id.as_str());
            items.chain(parts).chain(names.hardware.rows.iter().map(|row| row.id.as_str()))
        });
        crate::near::nearest(id, known).unwrap_or(id)
    }

    /// The file that the spec was defined in.
    pub fn file_of_spec(&self, spec: &Spec) -> FileId {
        // By its place in memory: a guide with a thousand specs asks this a thousand times.
        let own = self.own.specs.rows.as_ptr_range().contains(&std::ptr::from_ref(spec));
        if own { self.own_file } else { self.shop_file.unwrap_or(self.own_file) }
    }

    /// The file that the part, hardware or item was defined in.
    pub fn file_of_thing(&self, id: &str) -> FileId {
        let own = self.own.items.get(id).is_some() || self.own.parts.get(id).is_some() || self.own.hardware.get(id).is_some();
        if own { self.own_file } else { self.shop_file.unwrap_or(self.own_file) }
    }

    /// The words of a spec's source: its full name with what stands behind the id, or the words as written.
    pub fn source_words(&self, written: &str) -> String {
        let (id, rest) = split_source(written);
        self.source(id).map_or_else(|| written.to_owned(), |name| format!("{name}{rest}"))
    }
}

/// Splits `manual (p. 3)` into the id and what follows it.
pub fn split_source(written: &str) -> (&str, &str) {
    let end = written.find([' ', ',', '(']).unwrap_or(written.len());
    written.split_at(end)
}

/// The step with this id.
pub fn step<'g, 's>(guide: &'g Guide<'s>, id: &str) -> Option<(usize, &'g Step<'s>)> {
    let mut steps = guide.steps.iter().enumerate();
    // The id of all sides together leads to the first of them.
    steps
        .clone()
        .find(|(_, step)| step.id.value == id)
        .or_else(|| steps.find(|(_, step)| step.side.as_ref().is_some_and(|side| side.of == id)))
}

/// The last step with this id: of several sides, the last one.
pub fn last_step<'g, 's>(guide: &'g Guide<'s>, id: &str) -> Option<(usize, &'g Step<'s>)> {
    let sided = guide.steps.iter().enumerate().rfind(|(_, step)| step.side.as_ref().is_some_and(|side| side.of == id));
    guide.steps.iter().enumerate().find(|(_, step)| step.id.value == id).or(sided)
}

/// Where a link without one of our schemes leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Destination<'a> {
    /// Out of the site.
    Web,
    /// A step of the same guide, by id.
    Step(&'a str),
    /// Another guide, by slug.
    Guide(&'a str),
    /// Nothing that is known.
    Unknown,
}

impl<'a> Destination<'a> {
    /// Reads an address: `#step-id`, `../folder/guide.md`, `file.md`, or one with a scheme.
    pub fn of(address: &'a str) -> Self {
        if let Some(id) = address.strip_prefix('#') {
            return Destination::Step(id);
        }
        if address.find([':', '/']).is_some_and(|at| address.as_bytes()[at] == b':') {
            return Destination::Web;
        }
        let path = address.split('#').next().unwrap_or_default();
        let mut parts = path.rsplit('/');
        match parts.next() {
            Some("guide.md") => parts.next().filter(|slug| *slug != "..").map_or(Destination::Unknown, Destination::Guide),
            Some(file) => file.strip_suffix(".md").map_or(Destination::Unknown, Destination::Guide),
            None => Destination::Unknown,
        }
    }
}
