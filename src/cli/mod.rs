//! Layer 4: the command line. Each command has a file; here stand the arguments and the way from an
//! outcome to an exit status.

mod compare;
mod draft;
mod failure;
mod handbook;
mod history;
mod issue;
mod make;
mod mend;
mod pass;
#[cfg(feature = "preview")]
mod preview;
#[cfg(feature = "sheets")]
mod print;
mod publish;
mod records;
mod report;
mod review;
#[cfg_attr(not(feature = "sheets"), path = "no_sheets.rs")]
mod sheets;
mod start;
mod terminal;
mod texts;
mod workplace;

use std::ffi::OsString;
use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Done, nothing stands in the way.
    Done,
    /// There are findings at or above the severity that counts.
    Findings,
    /// It could not be done: wrong arguments, or files that cannot be read or written.
    Failed,
}

impl Status {
    /// The exit status.
    pub fn code(self) -> u8 {
        match self {
            Status::Done => 0,
            Status::Findings => 1,
            Status::Failed => 2,
        }
    }
}

#[derive(Parser)]
#[command(
    name = "bayleaf",
    version,
    about = "Reviews and publishes the installation guides of a shop that fits vehicle equipment",
    after_help = "Run it in a folder that holds guides/.\n\nExit status: 0 done, 1 findings that count, 2 could not be done.\n\nExample:\n  bayleaf review\n  bayleaf publish\n  bayleaf print swivel-seat-base"
)]
struct Arguments {
    /// Work in this folder instead of the current one
    #[arg(short = 'C', value_name = "FOLDER", global = true)]
    folder: Option<PathBuf>,
    /// When to use colour
    #[arg(long, value_enum, default_value_t = Colour::Auto, global = true)]
    color: Colour,
    #[command(subcommand)]
    command: Command,
}

#[derive(Clone, Copy, ValueEnum)]
enum Colour {
    Auto,
    Always,
    Never,
}

#[derive(Subcommand)]
enum Command {
    /// Make an empty folder a shop with a small guide, or write the skeleton of a guide
    #[command(after_help = "Examples:\n  bayleaf start\n  bayleaf start guide side-step --list kit.csv")]
    Start(start::Options),
    /// Write the first draft of a guide from a talk: subtitles, dictated notes, a supplier's instructions
    #[command(
        after_help = "What was heard is written down with its moment and words; what was not said is left out, and the review of the draft tells it.\nA shop adds words of its own in guides/words.txt.\n\nExamples:\n  bayleaf draft awning.vtt --to guides/awning-rail/guide.md\n  bayleaf draft awning.vtt --video https://videos.example/awning --ask questions.pdf\n  bayleaf draft awning.vtt --against sheet.md\n  bayleaf draft - --to guides/awning-rail/guide.md < notes.txt"
    )]
    Draft(draft::Options),
    /// Read every guide and report what is missing or wrong
    #[command(
        after_help = "Examples:\n  bayleaf review\n  bayleaf review swivel-seat-base\n  bayleaf review --rule torque-missing\n  bayleaf review --as page --to findings.html\n  bayleaf review --as sarif --to findings.sarif\n  bayleaf review --mend"
    )]
    Review(review::Options),
    /// Make the site from all guides that have no holds
    #[command(after_help = "Examples:\n  bayleaf publish\n  bayleaf publish --unreleased --to /tmp/look")]
    Publish(publish::Options),
    #[cfg(feature = "sheets")]
    /// Make sheets of guides as PDF files, or print a record of work done
    #[command(
        after_help = "Examples:\n  bayleaf print swivel-seat-base\n  bayleaf print swivel-seat-base --option heated-seat --paper letter --to sheets\n  bayleaf print swivel-seat-base --sheet torque --sheet packing\n  bayleaf print --sheet values --to wall\n  bayleaf print --record record.json --to -\n\nA sheet of a guide with holds says NOT RELEASED, and the exit status is 1. So it is where a record lacks something."
    )]
    Print(print::Options),
    #[cfg(feature = "preview")]
    /// Serve the site on this machine while it is written: what changed is made anew and the browser loads it again
    #[command(
        after_help = "Held guides are shown too, marked NOT RELEASED; findings stand beside the page.\n\nExample:\n  bayleaf preview --port 8000"
    )]
    Preview(preview::Options),
    /// Keep the text of a guide's revision as it is issued
    #[command(
        after_help = "The text, what of the shop file it uses and its pictures are kept in guides/<name>/issued/.\n\nExamples:\n  bayleaf issue swivel-seat-base\n  bayleaf issue swivel-seat-base --check"
    )]
    Issue(issue::Options),
    /// Tell what differs between two states of a guide, or of all guides in two folders
    #[command(
        after_help = "A state is GUIDE (as it stands), GUIDE@B (the issued revision B), GUIDE@REF (a state of the version control, git), or a folder that holds guides/.\nWith one guide and no other state it is compared with its last issued revision.\n\nExamples:\n  bayleaf compare swivel-seat-base\n  bayleaf compare swivel-seat-base@B swivel-seat-base@C --as page --to compared.html\n  bayleaf compare swivel-seat-base@HEAD~3\n  bayleaf compare ../last-year .\n\nExit status: 0 nothing differs, 1 something does, 2 could not be done."
    )]
    Compare(compare::Options),
    /// Read a folder of as-built records: which vehicles, which revisions, what is missing, which wrenches
    #[command(
        after_help = "Each record is held against the text that it names: an issued revision, or the guide as it stands.\n\nExamples:\n  bayleaf records done\n  bayleaf records done --wrench TW-03\n  bayleaf records done --guide swivel-seat-base --since B --as csv --to touched.csv\n\nExit status: 0 all are complete, 1 some are open or were not read, 2 could not be done."
    )]
    Records(records::Options),
    /// Write the handbook for authors, to be read on this machine
    #[command(
        after_help = "It needs no guides and no network. A site has it only where the shop file says handbook = true.\n\nExample:\n  bayleaf handbook --to /tmp/handbook"
    )]
    Handbook(handbook::Options),
    /// Show whose work is built into this program, and under which licences
    Notices,
}

/// Written by the test `supply::the_notices_name_what_is_built_in` from the lock file.
const NOTICES: &str = include_str!("../notices.txt");

/// Runs the program with its arguments, the first of which is its own name.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> Status {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => {
            let wrong = error.use_stderr();
            // Nothing can be done about a closed pipe here.
            let _ = error.print();
            return if wrong { Status::Failed } else { Status::Done };
        }
    };
    match arguments.color {
        Colour::Auto => anstream::ColorChoice::Auto,
        Colour::Always => anstream::ColorChoice::Always,
        Colour::Never => anstream::ColorChoice::Never,
    }
    .write_global();
    let folder = arguments.folder.unwrap_or_else(|| PathBuf::from("."));
    let done = match arguments.command {
        Command::Start(options) => start::run(&folder, &options).map_err(failure::Failure::from),
        Command::Draft(options) => draft::run(&folder, &options),
        Command::Review(options) => review::run(&folder, &options),
        Command::Publish(options) => publish::run(&folder, &options),
        #[cfg(feature = "sheets")]
        Command::Print(options) => print::run(&folder, &options).map_err(failure::Failure::from),
        #[cfg(feature = "preview")]
        Command::Preview(options) => preview::run(&folder, &options),
        Command::Issue(options) => issue::run(&folder, &options),
        Command::Compare(options) => compare::run(&folder, &options),
        Command::Records(options) => records::run(&folder, &options),
        Command::Handbook(options) => handbook::run(&folder, &options).map_err(failure::Failure::from),
        Command::Notices => {
            terminal::data(NOTICES);
            Ok(Status::Done)
        }
    };
    done.unwrap_or_else(|error| {
        terminal::note(&format!("bayleaf: {error}"));
        Status::Failed
    })
}
