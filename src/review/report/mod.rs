//! Reports of findings. Each form has a file of its own; all get the same findings and the sources they
//! point into.

pub mod text;

use std::collections::BTreeMap;

use crate::source::{FileId, SourceFile};

/// The files that findings point into.
pub type Sources = BTreeMap<FileId, SourceFile>;
