//! Layer 4: the preview server. It hands out pages from memory, tells open browsers when there are new ones, and listens on the
//! loopback address unless asked otherwise. What the pages are made from, and when, is decided by whoever gives them.

mod server;
mod watch;

use std::collections::BTreeMap;
use std::sync::{Arc, RwLock};

use serde::Serialize;
use tokio::sync::broadcast;

pub use server::{bind, serve};
pub use watch::{Watch, WatchError, watch};

/// Pages and other files by their path in the site.
pub type Pages = BTreeMap<String, Arc<[u8]>>;

/// What the panel beside a page says.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Report {
    /// Why the pages are not of the newest state: a fault of the theme, say.
    pub fault: Option<String>,
    /// How many findings there are in all, in words.
    pub totals: String,
    /// Findings by guide; those of the shop file stand under the empty name.
    pub guides: BTreeMap<String, Vec<Shown>>,
}

/// A finding in the panel.
#[derive(Clone, Debug, Serialize)]
pub struct Shown {
    /// `hold`, `query` or `remark`.
    pub weight: &'static str,
    /// The rule.
    pub rule: &'static str,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub remedy: String,
    /// `path:line:column`.
    pub place: String,
    /// The anchor of the line on the reviewer's page.
    pub anchor: String,
}

/// What is served at a time.
#[derive(Debug, Default)]
pub struct State {
    /// The site.
    pub pages: Pages,
    /// What the panel says.
    pub report: Report,
    /// The reviewer's page.
    pub review: Vec<u8>,
}

/// What is served, and the way to tell browsers that it is new.
#[derive(Clone)]
pub struct Stage {
    state: Arc<RwLock<Arc<State>>>,
    news: broadcast::Sender<()>,
}

impl Default for Stage {
    fn default() -> Self {
        Stage { state: Arc::default(), news: broadcast::channel(16).0 }
    }
}

impl Stage {
    /// Serves `state` from now on and has open pages loaded again.
    pub fn show(&self, state: State) {
        // A panic elsewhere cannot leave this half written: it holds one pointer.
        *self.state.write().unwrap_or_else(|poisoned| poisoned.into_inner()) = Arc::new(state);
        // Nobody listening is no fault.
        let _ = self.news.send(());
    }

    fn now(&self) -> Arc<State> {
        self.state.read().unwrap_or_else(|poisoned| poisoned.into_inner()).clone()
    }
}
