//! `bayleaf start`: an empty folder becomes a shop with a small guide; `bayleaf start guide NAME` writes the skeleton of a guide, with the
//! parts and hardware of a list. Nothing that is there already is touched.

use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};

use crate::cli::Status;
use crate::cli::terminal::{self, counted};
use crate::cli::workplace::{GUIDES, Workplace};
use crate::disk::{self, DiskError};
use crate::guide::facts::slug_of;
use crate::start::{self, list};

/// A list longer than this is no list of a kit.
const LARGEST_LIST: u64 = 1 << 20;

#[derive(Args)]
pub(super) struct Options {
    #[command(subcommand)]
    what: Option<What>,
}

#[derive(Subcommand)]
enum What {
    /// Write the skeleton of a guide, with parts and hardware from a list
    #[command(
        after_help = "The list is lines such as \"4 x Hex bolt M8x25 8.8\", or a table with commas, semicolons or tabs.\nWhat it does not say becomes \"untold\".\n\nExamples:\n  bayleaf start guide side-step\n  bayleaf start guide side-step --list kit.csv\n  bayleaf start guide side-step --title \"Fit the side step\" --list - < pasted.txt"
    )]
    Guide(GuideOptions),
}

#[derive(Args)]
struct GuideOptions {
    /// The name of its folder, which becomes the page's address
    #[arg(value_name = "NAME")]
    name: String,
    /// What the guide does, as a command; without it, the name
    #[arg(long, value_name = "WORDS")]
    title: Option<String>,
    /// A list of the kit, saved or pasted; - reads it from standard input
    #[arg(long, value_name = "FILE")]
    list: Option<PathBuf>,
}

pub(super) fn run(folder: &Path, options: &Options) -> Result<Status, DiskError> {
    match &options.what {
        None => shop(folder),
        Some(What::Guide(options)) => guide(folder, options),
    }
}

/// A new shop with a small guide.
fn shop(folder: &Path) -> Result<Status, DiskError> {
    let guides = folder.join(GUIDES);
    if guides.exists() {
        let why = "the folder has guides already; bayleaf start guide NAME adds one";
        return Err(DiskError::refused(guides, "start a shop in", why));
    }
    let (shop, first) = (guides.join(disk::SHOP_FILE), guides.join(start::FIRST).join("guide.md"));
    disk::write_new(&shop, start::SHOP.as_bytes())?;
    disk::write_new(&first, start::GUIDE.as_bytes())?;
    terminal::result(&format!("{}\n{}\n", shop.display(), first.display()));
    terminal::note("a shop with a small guide to read and change; every line is explained in it");
    terminal::note("next: bayleaf review, then bayleaf preview; bayleaf start guide NAME adds a guide, bayleaf handbook explains the rest");
    Ok(Status::Done)
}

/// The skeleton of a guide.
fn guide(folder: &Path, options: &GuideOptions) -> Result<Status, DiskError> {
    let name = options.name.trim().trim_end_matches('/');
    let slug = slug_of(name);
    if name.is_empty() || slug != name {
        terminal::note(&format!(
            "bayleaf: `{name}` cannot be the name of a guide: it becomes an address, so use lower-case letters, digits and hyphens, for instance `{slug}`"
        ));
        return Ok(Status::Failed);
    }
    let workplace = Workplace::open(folder)?;
    if let Some(there) = workplace.guides.iter().find(|guide| guide.slug == slug) {
        let why = "there is a guide of this name; choose another, or change that one";
        return Err(DiskError::refused(there.file.clone(), "write", why));
    }
    let listed = match &options.list {
        None => list::Listed::default(),
        Some(path) => {
            let bytes = if path == Path::new("-") { disk::piped(LARGEST_LIST)? } else { disk::given(path, LARGEST_LIST)? };
            match String::from_utf8(bytes) {
                Ok(text) => list::read(&text),
                Err(_) => return Err(DiskError::refused(path.clone(), "read the list", "it is no text in UTF-8; save it as CSV, UTF-8")),
            }
        }
    };
    let title = options.title.clone().unwrap_or_else(|| format!("Fit: {}", slug.replace('-', " ")));
    // Where the shop has one vehicle, it is that one.
    let vehicles = &workplace.shop.shared.vehicles.rows;
    let vehicle = if let [only] = vehicles.as_slice() { Some(only.id.value.as_str()) } else { None };
    let file = folder.join(GUIDES).join(&slug).join("guide.md");
    disk::write_new(&file, start::skeleton(&title, &listed, vehicle).as_bytes())?;
    terminal::result(&format!("{}\n", file.display()));
    for (line, why) in &listed.left {
        terminal::note(&format!("line {line} of the list was left out: {why}"));
    }
    let hardware = listed.rows.iter().filter(|row| row.kind.is_some()).count();
    let uncounted = listed.rows.iter().filter(|row| row.count.is_none()).count();
    if !listed.rows.is_empty() {
        let parts = counted(listed.rows.len() - hardware, "part", "parts");
        let counts = if uncounted > 0 { format!("; {uncounted} without a count are asked for") } else { String::new() };
        terminal::note(&format!("{parts} and {} of hardware taken from the list{counts}", counted(hardware, "sort", "sorts")));
    }
    terminal::note(&format!("next: bayleaf review {slug}; bayleaf review {slug} --as questions lists what is still to be found out"));
    Ok(if listed.left.is_empty() { Status::Done } else { Status::Findings })
}
