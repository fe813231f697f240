//! Values and text from outside this project, each check with its source beside it.

#[path = "../outside/fastener.rs"]
mod fastener;
#[path = "../outside/fastener_torque.rs"]
mod fastener_torque;
#[path = "../outside/ledger.rs"]
mod ledger;
#[path = "../outside/ledger_books.rs"]
mod ledger_books;
#[path = "../outside/ledger_guide.rs"]
mod ledger_guide;
#[path = "../outside/markdown.rs"]
mod markdown;
#[path = "../outside/pages.rs"]
mod pages;
#[path = "../outside/sarif.rs"]
mod sarif;
#[path = "../outside/units.rs"]
mod units;
#[path = "../outside/wiring.rs"]
mod wiring;
