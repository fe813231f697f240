//! How the benches measure: a folder in memory, runs of the program with their peak memory, medians of pairs.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

/// A folder to measure in. It lies in memory where it can: fresh writes on a virtual disk swing by a factor of ten.
pub(crate) struct Home(tempfile::TempDir);

impl Home {
    /// A new one.
    pub(crate) fn new() -> Self {
        let base = if Path::new("/dev/shm").is_dir() { PathBuf::from("/dev/shm") } else { std::env::temp_dir() };
        Home(tempfile::Builder::new().prefix("bayleaf-bench-").tempdir_in(base).expect("a folder to measure in"))
    }

    /// Where it is.
    pub(crate) fn path(&self) -> &Path {
        self.0.path()
    }

    /// Takes a published site away, with what is remembered of it.
    pub(crate) fn clear(&self, site: &str) {
        let _ = fs::remove_dir_all(self.path().join(site));
        let _ = fs::remove_file(self.path().join(format!(".bayleaf-cache-{site}")));
    }

    /// The bytes of all files of a folder.
    pub(crate) fn weight(&self, folder: &str) -> f64 {
        fn bytes(folder: &Path) -> u64 {
            let entries = fs::read_dir(folder).into_iter().flatten().flatten();
            entries
                .map(|entry| if entry.path().is_dir() { bytes(&entry.path()) } else { entry.metadata().map_or(0, |facts| facts.len()) })
                .sum()
        }
        bytes(&self.path().join(folder)) as f64
    }
}

/// How long some work takes, in seconds.
pub(crate) fn timed<R>(work: impl FnOnce() -> R) -> f64 {
    let start = Instant::now();
    std::hint::black_box(work());
    start.elapsed().as_secs_f64()
}

/// The middle one.
pub(crate) fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// Several things measured in turn, so often; the median of each.
pub(crate) fn pairs<const N: usize>(runs: usize, mut run: impl FnMut() -> [f64; N]) -> [f64; N] {
    let mut rows: [Vec<f64>; N] = std::array::from_fn(|_| Vec::new());
    for _ in 0..runs {
        for (row, time) in rows.iter_mut().zip(run()) {
            row.push(time);
        }
    }
    rows.map(median)
}

/// Runs the program; gives its peak memory in kilobytes, where the system says it.
pub(crate) fn bayleaf(folder: &Path, arguments: &[&str]) -> u64 {
    let mut command = Command::new(env!("CARGO_BIN_EXE_bayleaf"));
    command.arg("-C").arg(folder).args(arguments).stdout(Stdio::null()).stderr(Stdio::null());
    let mut child = command.spawn().expect("the program starts");
    let status = format!("/proc/{}/status", child.id());
    let mut peak = 0;
    loop {
        if let Ok(text) = fs::read_to_string(&status)
            && let Some(line) = text.lines().find(|line| line.starts_with("VmHWM"))
        {
            peak = peak.max(line.split_whitespace().nth(1).and_then(|kb| kb.parse().ok()).unwrap_or(0));
        }
        if let Some(status) = child.try_wait().expect("the program ends") {
            // Findings are no failure here.
            assert!(status.code().is_some_and(|code| code < 2), "{arguments:?}: {status}");
            return peak;
        }
        std::thread::sleep(std::time::Duration::from_millis(1));
    }
}

/// A photo of 12 megapixels with something in it, as a camera gives it.
pub(crate) fn photo(seed: usize) -> Vec<u8> {
    let (width, height) = (4000_u32, 3000_u32);
    let picture = image::RgbImage::from_fn(width, height, |x, y| {
        let (x, y) = (x as usize, y as usize);
        let wave = ((x * (3 + seed) / 17) ^ (y * 5 / 13)) as u8;
        image::Rgb([(x / 16) as u8, (y / 12) as u8 ^ (wave & 15), 90 + (wave & 31)])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).expect("a photo");
    bytes.into_inner()
}
