//! Rows of the model that are found by their id, and all that one file defines.

use foldhash::HashMap;

use super::{Caution, Circuit, Consumable, Hardware, Item, Part, Spec, Text, Tool, Vehicle, VehicleOption};

/// Rows with an id, kept in the order written and found by id.
#[derive(Clone, Debug)]
pub struct Table<T> {
    /// The rows in order.
    pub rows: Vec<T>,
    index: HashMap<String, usize>,
}

impl<T> Default for Table<T> {
    fn default() -> Self {
        Table { rows: Vec::new(), index: HashMap::default() }
    }
}

impl<T> Table<T> {
    /// Adds a row; gives back the earlier row of the same id, which stays the one that is found.
    pub fn insert(&mut self, id: &str, row: T) -> Option<&T> {
        self.rows.push(row);
        match self.index.get(id) {
            Some(&earlier) => Some(&self.rows[earlier]),
            None => {
                self.index.insert(id.to_owned(), self.rows.len() - 1);
                None
            }
        }
    }

    /// The row with this id.
    pub fn get(&self, id: &str) -> Option<&T> {
        self.index.get(id).map(|&at| &self.rows[at])
    }
}

/// Everything with an id that one file defines.
#[derive(Clone, Debug, Default)]
pub struct Definitions {
    /// `[[part]]`
    pub parts: Table<Part>,
    /// `[[hardware]]`
    pub hardware: Table<Hardware>,
    /// `[[spec]]`
    pub specs: Table<Spec>,
    /// `[[option]]`
    pub options: Table<VehicleOption>,
    /// `[[item]]` and `[[connector]]`
    pub items: Table<Item>,
    /// `[[tool]]`
    pub tools: Table<Tool>,
    /// `[[consumable]]`
    pub consumables: Table<Consumable>,
    /// `[[caution]]` with an id
    pub cautions: Table<Caution>,
    /// `[[circuit]]`
    pub circuits: Table<Circuit>,
    /// `[[vehicle]]`
    pub vehicles: Table<Vehicle>,
    /// Papers that values come from: id and full name.
    pub sources: Table<(Text, Text)>,
}
