//! Reading files that are what they should be: regular ones, in the folder where they are looked for, and no larger than such a file can be.

use std::fs::{self, File};
use std::io::Read;
use std::path::Path;

use super::{DiskError, failed};

/// A guide or a shop file larger than this is not read; the longest of the demo guides has 80 kB.
pub const LARGEST_TEXT: u64 = 1 << 20;
/// A file of a shop's theme larger than this is not read.
pub const LARGEST_OWN: u64 = 16 << 20;
/// A record larger than this is not read; it is refused by what it holds long before.
pub const LARGEST_GIVEN: u64 = 16 << 20;

/// The bytes of a text file that stands in its folder, and not only a link to one elsewhere.
pub fn read(path: &Path) -> Result<Vec<u8>, DiskError> {
    within(path, LARGEST_TEXT)
}

/// The same with a limit of its own.
pub(super) fn within(path: &Path, limit: u64) -> Result<Vec<u8>, DiskError> {
    let real = path.canonicalize().map_err(failed(path, "read"))?;
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let home = folder.canonicalize().map_err(failed(path, "read"))?;
    if !real.starts_with(&home) {
        return Err(DiskError::refused(path, "read", "it is a link that leads out of its folder"));
    }
    // Asked before it is opened: opening a pipe waits for somebody to write.
    if !fs::metadata(&real).map_err(failed(path, "read"))?.is_file() {
        return Err(DiskError::refused(path, "read", "it is no regular file"));
    }
    given(path, limit)
}

/// The bytes of a file that somebody named, whatever it is: a pipe may be meant.
pub fn given(path: &Path, limit: u64) -> Result<Vec<u8>, DiskError> {
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(failed(path, "read"))?;
    // Whatever the system says of its length, no more is read than there may be.
    file.take(limit + 1).read_to_end(&mut bytes).map_err(failed(path, "read"))?;
    if bytes.len() as u64 > limit {
        return Err(DiskError::refused(path, "read", format!("it is larger than {} MB", limit >> 20)));
    }
    Ok(bytes)
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;

    #[test]
    fn links_that_lead_out_pipes_devices_and_large_files_are_refused() {
        let home = tempfile::tempdir().unwrap();
        let shop = home.path().join("shop");
        fs::create_dir(&shop).unwrap();
        fs::write(home.path().join("secret"), "s").unwrap();
        fs::write(shop.join("here"), "h").unwrap();
        let link = |to: &str, name: &str| std::os::unix::fs::symlink(to, shop.join(name)).unwrap();
        link("../secret", "out");
        link("here", "in");
        link("/dev/zero", "device");
        let told = |name: &str| read(&shop.join(name)).unwrap_err().to_string();
        assert!(told("out").contains("leads out of its folder"));
        assert!(told("device").contains("leads out of its folder"));
        assert_eq!(read(&shop.join("in")).unwrap(), b"h");
        let pipe = std::process::Command::new("mkfifo").arg(shop.join("pipe")).status();
        if pipe.is_ok_and(|status| status.success()) {
            assert!(told("pipe").contains("no regular file"));
        }
        fs::write(shop.join("large"), vec![b'x'; (LARGEST_TEXT + 1) as usize]).unwrap();
        assert!(told("large").contains("larger than 1 MB"));
        assert!(told("none").contains("cannot read"));
        // What never ends is read up to the limit.
        assert!(given(Path::new("/dev/zero"), 1 << 20).unwrap_err().to_string().contains("larger than 1 MB"));
    }
}
