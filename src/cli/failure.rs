//! Why a command could not do what was asked of it: every error of the layers below, with its cause, up to the terminal.

use std::error::Error;
use std::fmt;

use crate::disk::DiskError;
use crate::site::SiteError;
use crate::theme::ThemeError;

/// Why a command failed.
#[derive(Debug)]
pub(super) enum Failure {
    /// A file could not be read or written.
    Disk(DiskError),
    /// The theme cannot be used.
    Theme(ThemeError),
    /// A file for other programs could not be put into its form.
    Written(serde_json::Error),
    /// What is remembered of a guide could not be put into its form or read from it.
    Remembered(postcard::Error),
    /// A report could not be put into its form.
    Report(serde_json::Error),
    /// The pages cannot be served.
    #[cfg(feature = "preview")]
    Serve(std::io::Error),
    /// The folders cannot be watched.
    #[cfg(feature = "preview")]
    Watch(crate::preview::WatchError),
}

impl fmt::Display for Failure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Failure::Disk(error) => error.fmt(out),
            Failure::Theme(error) => error.fmt(out),
            Failure::Written(error) => write!(out, "a file for other programs cannot be written: {error}"),
            Failure::Remembered(error) => write!(out, "what is remembered of a guide cannot be kept ({error}); publish with --anew"),
            Failure::Report(error) => write!(out, "the report cannot be written: {error}"),
            #[cfg(feature = "preview")]
            Failure::Serve(error) => write!(out, "cannot serve the pages: {error}"),
            #[cfg(feature = "preview")]
            Failure::Watch(error) => error.fmt(out),
        }
    }
}

impl Error for Failure {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            Failure::Disk(error) => error.source(),
            Failure::Theme(error) => error.source(),
            Failure::Written(error) | Failure::Report(error) => Some(error),
            Failure::Remembered(error) => Some(error),
            #[cfg(feature = "preview")]
            Failure::Serve(error) => Some(error),
            #[cfg(feature = "preview")]
            Failure::Watch(error) => error.source(),
        }
    }
}

impl From<DiskError> for Failure {
    fn from(error: DiskError) -> Self {
        Failure::Disk(error)
    }
}

impl From<ThemeError> for Failure {
    fn from(error: ThemeError) -> Self {
        Failure::Theme(error)
    }
}

impl From<SiteError> for Failure {
    fn from(error: SiteError) -> Self {
        match error {
            SiteError::Theme(error) => Failure::Theme(error),
            SiteError::Written(error) => Failure::Written(error),
        }
    }
}

impl From<postcard::Error> for Failure {
    fn from(error: postcard::Error) -> Self {
        Failure::Remembered(error)
    }
}

impl From<serde_json::Error> for Failure {
    fn from(error: serde_json::Error) -> Self {
        Failure::Report(error)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cause_is_kept_to_the_edge() {
        let gone = std::path::Path::new("no-such-folder-anywhere");
        let failure = Failure::from(crate::disk::read(gone).unwrap_err());
        let cause = failure.source().and_then(|cause| cause.downcast_ref::<std::io::Error>()).map(std::io::Error::kind);
        assert_eq!(cause, Some(std::io::ErrorKind::NotFound));
        assert!(failure.to_string().starts_with("cannot read no-such-folder-anywhere: "), "{failure}");
        let refused = Failure::from(DiskError::refused("site", "publish to", "it is a file, not a folder"));
        assert!(refused.source().is_none());
        assert_eq!(refused.to_string(), "cannot publish to site: it is a file, not a folder");
    }
}
