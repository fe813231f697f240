//! Foreign text by the million: every reader of it is given arbitrary bytes, and what the demo shop, the cases of the rules and the second
//! books hold with slips, moves, splices and ends of numbers in it. Each target is a function from bytes to a number that tells apart what
//! came of them; what came out as nothing before joins the inputs that further ones are made from. A panic, an overflow, a mark outside of
//! its text, a picture that is published and then refused, or a run that does not end is a crash. Everything follows from fixed seeds, so a
//! run finds what the same run found before.
//!
//! `cargo test --locked --test fuzz` makes a short run, after every crash that was ever found (`crashes/`). The long run, optimised and
//! with its overflow checks on:
//!
//! ```text
//! CARGO_PROFILE_DEV_OPT_LEVEL=2 FUZZ=20 cargo test --locked --test fuzz -- --ignored --nocapture
//! ```
//!
//! `FUZZ` is the number of runs in millions, `TARGET` one target alone, `SEED` another seed, `THREADS` fewer than all cores. A crash is
//! written below `target/tmp/fuzz/`; mended, its file goes to `crashes/<target>/`.

mod corpus;
mod mutate;
mod targets;

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::fs;
use std::io::{Seek, Write};
use std::panic::{self, AssertUnwindSafe};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, Once};
use std::time::{Duration, Instant};

use mutate::Mutator;
use targets::{TARGETS, Target};

/// A run that takes longer than this does not end, on whatever machine.
const ENDLESS: Duration = Duration::from_secs(60);
/// The stack of the program's own workers.
const STACK: usize = 2 << 20;
/// Into how many slices the runs of a target are cut, each with its own seed and inputs, so that the number of threads changes nothing.
const SLICES: usize = 8;
/// A slice has so many runs at least.
const LEAST: usize = 20_000;
/// So many inputs that came to something new are kept in each slice.
const KEPT: usize = 1_000;

thread_local! {
    /// Where and why the last panic of this thread was.
    static PANIC: RefCell<String> = const { RefCell::new(String::new()) };
}

/// Panics are caught here, and told once with their input instead of on the terminal.
fn quiet() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let loud = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            let named = std::thread::current().name().is_some_and(|name| name.starts_with("fuzz"));
            if !named {
                return loud(info);
            }
            let place = info.location().map(|place| format!("{}:{}", place.file(), place.line())).unwrap_or_default();
            let why = info.payload_as_str().unwrap_or("a panic without words").to_owned();
            PANIC.with(|last| *last.borrow_mut() = format!("{place}: {why}"));
        }));
    });
}

/// What came of one input; the error says where and why it crashed.
fn once(target: &Target, input: &[u8]) -> Result<u64, String> {
    let start = Instant::now();
    let outcome = panic::catch_unwind(AssertUnwindSafe(|| (target.run)(input)));
    let took = start.elapsed();
    match outcome {
        Ok(_) if took > ENDLESS => Err(format!("it took {took:.1?}")),
        Ok(outcome) => Ok(outcome),
        Err(_) => Err(PANIC.with(|last| last.borrow().clone())),
    }
}

/// The place of a crash without its words, which differ with the input.
fn place(why: &str) -> &str {
    why.split(": ").next().unwrap_or(why)
}

/// The input with everything taken out that the crash does not need, as far as a few hundred tries find it.
fn smallest(target: &Target, input: &[u8], why: &str) -> Vec<u8> {
    let mut input = input.to_vec();
    let mut chunk = input.len() / 2;
    let mut tries = 0;
    while chunk > 0 && tries < 3_000 {
        let mut at = 0;
        while at < input.len() && tries < 3_000 {
            let mut shorter = input.clone();
            shorter.drain(at..(at + chunk).min(input.len()));
            tries += 1;
            match once(target, &shorter) {
                Err(same) if place(&same) == place(why) => input = shorter,
                _ => at += chunk,
            }
        }
        chunk /= 2;
    }
    input
}

/// Where crashes and the inputs of the moment are written.
fn folder() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("fuzz")
}

struct Crash {
    target: &'static str,
    why: String,
    file: PathBuf,
}

/// One slice of the runs of a target.
fn slice(target: &'static Target, seed: u64, runs: usize) -> (usize, Vec<Crash>) {
    let mut mutator = Mutator::new(seed, target.kind);
    let mut inputs: Vec<Arc<[u8]>> = corpus::of(target.kind);
    let seeds = inputs.len();
    // A short run of a dear target begins at once.
    let first = if runs > 10 * seeds { seeds } else { 0 };
    let mut seen: BTreeSet<u64> = inputs[..first].iter().filter_map(|input| once(target, input).ok()).collect();
    let mut crashes: Vec<Crash> = Vec::new();
    let now = folder().join(format!("{}-{seed}.now", target.name));
    let mut before = fs::File::create(&now).unwrap();
    for _ in 0..runs {
        let input = mutator.next(&inputs);
        // A stack that overflows ends the process; then this file is what did it: its length in eight bytes, and the input.
        if target.deep {
            before.rewind().unwrap();
            before.write_all(&(input.len() as u64).to_le_bytes()).and_then(|()| before.write_all(&input)).unwrap();
        }
        match once(target, &input) {
            Ok(outcome) if seen.insert(outcome) => {
                let input: Arc<[u8]> = input.into();
                if inputs.len() < seeds + KEPT {
                    inputs.push(input);
                } else {
                    let at = seeds + mutator.below(KEPT);
                    inputs[at] = input;
                }
            }
            Ok(_) => {}
            Err(why) if crashes.iter().any(|known| place(&known.why) == place(&why)) => {}
            Err(why) => {
                let input = smallest(target, &input, &why);
                let file = folder().join(format!("{}-{seed}-{}", target.name, crashes.len() + 1));
                fs::write(&file, input).unwrap();
                crashes.push(Crash { target: target.name, why, file });
            }
        }
    }
    let _ = fs::remove_file(now);
    (seen.len(), crashes)
}

fn number(name: &str) -> Option<f64> {
    std::env::var(name).ok().map(|text| text.parse().unwrap_or_else(|_| panic!("{name} is a number")))
}

/// Runs every target for its share of so many runs, and demands that none crashes.
fn fuzz(runs: usize, loud: bool) {
    quiet();
    fs::create_dir_all(folder()).unwrap();
    let only = std::env::var("TARGET").unwrap_or_default();
    let seed = number("SEED").unwrap_or(1.0) as u64;
    let targets: Vec<&'static Target> = TARGETS.iter().filter(|target| only.is_empty() || target.name == only).collect();
    assert!(!targets.is_empty(), "there is no target {only}");
    let all: u64 = targets.iter().map(|target| target.share).sum();
    let whole = |target: &Target| (runs as u64 * target.share / all) as usize;
    let slices_of = |target: &Target| (whole(target) / LEAST).clamp(1, SLICES);
    let runs_of = |target: &Target| (whole(target) / slices_of(target)).max(1);
    let slices = targets.iter().flat_map(|target| (0..slices_of(target)).map(move |at| (*target, at)));
    // The dear ones first, so that no thread ends long before the others.
    let mut jobs: Vec<(&'static Target, usize)> = slices.collect();
    jobs.sort_by_key(|(target, _)| target.share);
    let next = AtomicUsize::new(0);
    let done: Mutex<Vec<(&str, usize, usize, Duration)>> = Mutex::default();
    let crashes: Mutex<Vec<Crash>> = Mutex::default();
    let threads = number("THREADS").map_or_else(|| std::thread::available_parallelism().map_or(1, usize::from), |threads| threads as usize);
    std::thread::scope(|scope| {
        for at in 0..threads {
            let work = || {
                while let Some((target, at)) = jobs.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let start = Instant::now();
                    let runs = runs_of(target);
                    let (outcomes, found) = slice(target, seed * 1_000 + *at as u64, runs);
                    crashes.lock().unwrap().extend(found);
                    done.lock().unwrap().push((target.name, runs, outcomes, start.elapsed()));
                }
            };
            std::thread::Builder::new().name(format!("fuzz-{at}")).stack_size(STACK).spawn_scoped(scope, work).unwrap();
        }
    });
    let done = done.into_inner().unwrap();
    let crashes = crashes.into_inner().unwrap();
    assert_eq!(done.len(), jobs.len(), "a slice did not come to its end");
    if loud {
        println!("{:<12} {:>10} {:>9} {:>8} {:>7}", "target", "runs", "outcomes", "seconds", "crashes");
        for target in &targets {
            let own = || done.iter().filter(|(name, ..)| name == &target.name);
            let crashed = crashes.iter().filter(|crash| crash.target == target.name).count();
            let seconds: f64 = own().map(|(.., took)| took.as_secs_f64()).sum();
            let (runs, outcomes) = own().fold((0, 0), |sum, (_, runs, outcomes, _)| (sum.0 + runs, sum.1 + outcomes));
            println!("{:<12} {runs:>10} {outcomes:>9} {seconds:>8.0} {crashed:>7}", target.name);
        }
        println!("{} runs, {} crashes", done.iter().map(|(_, runs, ..)| runs).sum::<usize>(), crashes.len());
    }
    let told: Vec<String> = crashes.iter().map(|crash| format!("{}: {}\n  {}", crash.target, crash.why, crash.file.display())).collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
}

#[test]
fn every_crash_that_was_found_stays_mended() {
    quiet();
    let mut count = 0;
    let work = || {
        for target in TARGETS {
            let own = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/crashes").join(target.name);
            for entry in fs::read_dir(own).into_iter().flatten().flatten() {
                if let Err(why) = once(target, &fs::read(entry.path()).unwrap()) {
                    panic!("{}: {why}", entry.path().display());
                }
                count += 1;
            }
        }
    };
    std::thread::scope(|scope| {
        let thread = std::thread::Builder::new().name("kept".to_owned()).stack_size(STACK).spawn_scoped(scope, work).unwrap();
        thread.join().unwrap();
    });
    let kept = walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/crashes"));
    assert_eq!(count, kept, "a file lies in the folder of no target");
}

fn walk(folder: &Path) -> usize {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    entries
        .map(|entry| {
            if entry.path().is_dir() {
                walk(&entry.path())
            } else {
                usize::from(entry.path().extension().is_none_or(|ending| ending != "md"))
            }
        })
        .sum()
}

#[test]
fn a_short_run_finds_nothing() {
    fuzz(20_000, false);
}

#[test]
#[ignore = "takes an hour"]
fn a_long_run_finds_nothing() {
    fuzz((number("FUZZ").unwrap_or(20.0) * 1e6) as usize, true);
}
