//! Publishing is whole or not at all, and the same everywhere: killed at any moment, on a full disk, under other locales, time zones, numbers
//! of cores, paths and orders of directory entries. The long runs are ignored:
//! `cargo test --locked --test it whole -- --ignored --nocapture`, with `RUNS=500` for another number of kills.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use sha2::{Digest, Sha256};

const GUIDES: usize = 6;

fn guide(at: usize, version: usize) -> String {
    format!(
        "+++\ntitle = \"Fit bracket {at}, text {version}\"\ndocument = \"TH-{at}\"\nrevision = \"A\"\nissued = 2026-09-14\nfits = [\"marlin\"]\nfinal_check = [\"The bracket does not move\"]\n+++\n\n## Look at the bracket\n\nThe bracket lies on the rail.\n"
    )
}

/// A small shop whose guides are written in the order of `order`.
fn shop(folder: &Path, version: usize, order: impl Iterator<Item = usize>) {
    fs::create_dir_all(folder.join("guides")).unwrap();
    for at in order {
        let own = folder.join(format!("guides/bracket-{at}"));
        fs::create_dir_all(&own).unwrap();
        fs::write(own.join("guide.md"), guide(at, version)).unwrap();
    }
    fs::write(
        folder.join("guides/shop.toml"),
        "name = \"Tern Hollow Van Works\"\nlanguage = \"en\"\nunits = \"metric\"\n\n[[vehicle]]\nid = \"marlin\"\nname = \"Marlin\"\n",
    )
    .unwrap();
}

fn publish(folder: &Path, more: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_bayleaf"));
    command.arg("-C").arg(folder).args(["publish", "--unreleased"]).args(more).stdout(Stdio::null()).stderr(Stdio::null());
    command
}

/// Every file of a folder with its content.
fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(at) = open.pop() {
        for entry in fs::read_dir(&at).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                open.push(path);
            } else {
                found.insert(path.strip_prefix(folder).unwrap().to_owned(), fs::read(&path).unwrap());
            }
        }
    }
    found
}

/// Whether a folder is a site as it was published: every file that its record lists, with that content, and no other.
fn is_whole(site: &BTreeMap<PathBuf, Vec<u8>>) -> bool {
    let Some(record) = site.get(Path::new(".bayleaf-site")) else { return false };
    let record = String::from_utf8(record.clone()).unwrap();
    let listed: Vec<(&str, &str)> = record.lines().skip(1).filter_map(|line| line.split_once("  ")).collect();
    let hash = |bytes: &[u8]| Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect::<String>();
    listed.len() + 1 == site.len() && listed.iter().all(|(sum, path)| site.get(Path::new(path)).is_some_and(|bytes| hash(bytes) == *sum))
}

/// What stands beside the site: nothing of ours may but the cache.
fn left_over(folder: &Path) -> Vec<String> {
    let names = fs::read_dir(folder).unwrap().flatten().map(|entry| entry.file_name().to_string_lossy().into_owned());
    names.filter(|name| name.starts_with(".bayleaf") && !name.starts_with(".bayleaf-cache-")).collect()
}

#[test]
fn one_shop_gives_one_site_whatever_the_machine() {
    let home = tempfile::tempdir().unwrap();
    let first = home.path().join("a");
    shop(&first, 1, 0..GUIDES);
    assert!(publish(&first, &[]).status().unwrap().code().is_some_and(|code| code < 2));
    let expected = files(&first.join("site"));
    assert!(expected.len() > 30 && is_whole(&expected), "{} files", expected.len());
    let second = home.path().join("b/ein Ordner mit Größe \u{1f527}/and a long way down");
    shop(&second, 1, (0..GUIDES).rev());
    /// What is different, the environment, and further arguments.
    type Machine = (&'static str, &'static [(&'static str, &'static str)], &'static [&'static str]);
    let machines: [Machine; 7] = [
        ("another path and order of entries", &[], &[]),
        ("German", &[("LC_ALL", "de_DE.UTF-8"), ("LANG", "de_DE.UTF-8")], &[]),
        ("Turkish, by the other i", &[("LC_ALL", "tr_TR.UTF-8")], &[]),
        ("no locale", &[("LC_ALL", "C")], &[]),
        ("ahead of the day line", &[("TZ", "Pacific/Kiritimati")], &[]),
        ("one core", &[("RAYON_NUM_THREADS", "1")], &[]),
        ("many cores and another target", &[("RAYON_NUM_THREADS", "13"), ("TZ", "Etc/GMT+12")], &["--to", "elsewhere/site"]),
    ];
    for (name, variables, more) in machines {
        let site = if more.is_empty() { second.join("site") } else { second.join("elsewhere/site") };
        assert!(publish(&second, more).envs(variables.iter().copied()).status().unwrap().code().is_some_and(|code| code < 2), "{name}");
        let found = files(&site);
        let differ: Vec<&PathBuf> = expected.keys().chain(found.keys()).filter(|path| expected.get(*path) != found.get(*path)).collect();
        assert!(differ.is_empty(), "{name}: {differ:?}");
    }
}

#[test]
fn two_publishes_at_once_leave_one_whole_site() {
    let home = tempfile::tempdir().unwrap();
    shop(home.path(), 1, 0..GUIDES);
    publish(home.path(), &["--no-sheets"]).status().unwrap();
    let mut running: Vec<_> = (0..3).map(|_| publish(home.path(), &["--no-sheets"]).spawn().unwrap()).collect();
    for child in &mut running {
        child.wait().unwrap();
    }
    assert!(is_whole(&files(&home.path().join("site"))));
    publish(home.path(), &["--no-sheets"]).status().unwrap();
    assert_eq!(left_over(home.path()), Vec::<String>::new());
}

/// Killed so often at moments spread over the whole run, readers see the old site or the new one, and the next run clears up.
fn kills(runs: usize) {
    let home = tempfile::tempdir().unwrap();
    shop(home.path(), 0, 0..GUIDES);
    let start = Instant::now();
    publish(home.path(), &["--no-sheets"]).status().unwrap();
    let whole_run = start.elapsed();
    let mut known = vec![files(&home.path().join("site"))];
    shop(home.path(), 1, 0..GUIDES);
    publish(home.path(), &["--no-sheets"]).status().unwrap();
    known.push(files(&home.path().join("site")));
    assert!(known.iter().all(is_whole) && known[0] != known[1]);
    let (mut changed, mut killed, mut seed) = (0, 0, 7_u64);
    let mut last = known[1].clone();
    for run in 0..runs {
        shop(home.path(), run % 2, 0..GUIDES);
        // Moments from a fixed seed, over a little more than the whole run.
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let moment = whole_run.mul_f64((seed >> 40) as f64 / (1_u64 << 24) as f64 * 1.2);
        let mut child = publish(home.path(), &["--no-sheets"]).spawn().unwrap();
        std::thread::sleep(moment);
        killed += usize::from(child.try_wait().unwrap().is_none());
        let _ = child.kill();
        child.wait().unwrap();
        let now = files(&home.path().join("site"));
        assert!(known.contains(&now), "run {run}, killed after {moment:?}: the site is neither the old one nor the new one");
        changed += usize::from(now != last);
        last = now;
        assert!(left_over(home.path()).len() <= 1, "run {run}: {:?}", left_over(home.path()));
    }
    publish(home.path(), &["--no-sheets"]).status().unwrap();
    assert!(is_whole(&files(&home.path().join("site"))) && left_over(home.path()).is_empty());
    println!("{runs} moments of {whole_run:?}, {killed} killed before the end, {changed} with another site behind them");
}

#[test]
fn killed_at_any_moment_the_site_is_the_old_one_or_the_new_one() {
    kills(12);
}

#[test]
#[ignore = "minutes"]
fn killed_at_any_of_many_moments() {
    kills(std::env::var("RUNS").ok().and_then(|runs| runs.parse().ok()).unwrap_or(500));
}

/// On a disk of each size from too small to large enough: the old site stays until the new one fits.
#[cfg(target_os = "linux")]
#[test]
#[ignore = "mounts small disks, which takes rights"]
fn on_a_full_disk_the_old_site_stays() {
    let home = tempfile::tempdir().unwrap();
    let disk = home.path().join("disk");
    fs::create_dir(&disk).unwrap();
    shop(home.path(), 0, 0..GUIDES);
    let mount = |size: usize, how: &str| {
        let done = Command::new("mount").args(["-t", "tmpfs", "-o", &format!("{how}size={size}k"), "tmpfs"]).arg(&disk).status();
        assert!(done.is_ok_and(|status| status.success()), "a disk of {size} kB cannot be mounted");
    };
    mount(60_000, "");
    let (mut full, mut fitting) = (0, 0);
    let to = disk.join("site");
    let run = || publish(home.path(), &["--no-sheets", "--to", to.to_str().unwrap()]).status().unwrap().code();
    assert!(run().is_some_and(|code| code < 2));
    let old = files(&to);
    shop(home.path(), 1, 0..GUIDES);
    let used: usize = old.values().map(|bytes| bytes.len().div_ceil(4096) * 4).sum();
    for step in 0..60 {
        mount(used + 300 + step * (used + 600) / 40, "remount,");
        let code = run();
        let now = files(&to);
        if code.is_some_and(|code| code < 2) {
            fitting += 1;
            assert!(is_whole(&now) && now != old, "step {step}");
            break;
        }
        full += 1;
        assert!(now == old, "step {step}: the old site is not as it was");
        assert_eq!(left_over(&disk), Vec::<String>::new(), "step {step}");
    }
    let _ = Command::new("umount").arg(&disk).status();
    println!("{full} sizes too small, then {fitting} large enough");
    assert!(full > 5 && fitting == 1);
    // A pause, so that the folder can go.
    std::thread::sleep(Duration::from_millis(50));
}
