//! The making of one guide's pages from its review, for whoever writes or serves them.

use crate::cli::failure::Failure;
use crate::cli::sheets;
use crate::cli::workplace::{Work, Workplace};
use crate::document::build::{self, Input};
use crate::finding::RuleName;
use crate::guide::picture::{PictureFact, PictureFault};
use crate::pictures::PictureError;
use crate::review::{self, Outcome};
use crate::site::{File, Kept, Publisher, Put};

/// Which guides get pages.
#[derive(Clone, Copy)]
pub(super) struct Wanted {
    /// Held ones too, as drafts.
    pub(super) draft: bool,
    /// Whether the shop file is held, which holds every guide.
    pub(super) shop_held: bool,
    /// Whether their checklists are made as PDF too.
    pub(super) sheets: bool,
}

/// Makes the published files of a picture: the guide's slug, the address in its text, what is known of it, its bytes.
pub(super) type MakePicture<'m> = &'m dyn Fn(&str, &str, PictureFact, &[u8]) -> Result<Vec<File>, PictureError>;

/// What a guide's pages are made with.
pub(super) struct Making<'m> {
    /// Renders pages.
    pub(super) publisher: &'m Publisher<'m>,
    /// The folder that the guide is in.
    pub(super) workplace: &'m Workplace,
    /// Which guides get pages.
    pub(super) wanted: Wanted,
    /// Makes published pictures.
    pub(super) picture: MakePicture<'m>,
}

/// Makes the pages of a guide, each handed to `put`; none if it may not go out. What cannot be published of its pictures is a finding;
/// why a sheet is not there goes to `problems`.
pub(super) fn guide(
    work: &Work<'_, '_>,
    outcome: &mut Outcome,
    making: &Making<'_>,
    problems: &mut Vec<String>,
    put: Put<'_, Failure>,
) -> Result<Option<Kept>, Failure> {
    let &Making { publisher, workplace, wanted, picture } = making;
    let mut pictures = work.pictures.clone();
    let mut photos: Vec<File> = Vec::new();
    if wanted.draft || !outcome.is_held() {
        for (address, fact) in &mut pictures {
            let (Ok(known), Some(bytes)) = (&fact, work.picture_bytes.get(address)) else { continue };
            match picture(&work.guide.slug, address, *known, bytes) {
                Ok(files) => photos.extend(files),
                Err(error) => {
                    let why = error.to_string();
                    outcome.findings.extend(review::broken_picture(work.guide, address, &why));
                    *fact = Err(PictureFault::Unreadable(why));
                }
            }
        }
    }
    let held = outcome.is_held();
    // Two guides of one address cannot both be published, not even as drafts.
    let twice = outcome.findings.iter().any(|finding| finding.rule == RuleName::SlugTwice);
    if twice || (held && !wanted.draft) {
        return Ok(None);
    }
    let input = Input { pictures: &pictures, hashes: work.hashes, fingerprint: None, draft: held || wanted.shop_held };
    let document = build::document(work.guide, &workplace.shop, &input);
    let mut links = Vec::new();
    if wanted.sheets {
        let made = sheets::make(workplace, &pictures, &photos, &document);
        links = made.links;
        problems.extend(made.problems);
        for (path, content) in &made.files {
            put(path, content)?;
        }
    }
    for (path, content) in &photos {
        put(path, content)?;
    }
    publisher.guide(&document, links, put).map(Some)
}
