//! The PDF files that `bayleaf publish` puts beside a guide's page, on both papers: its checklist with everything labelled and for each
//! combination of options that the shop file names; with everything labelled also the short form, the torque sheet and the packing list.

use crate::cli::failure::Failure;
use crate::cli::make::Photo;
use crate::cli::print::{file_name, shop_of};
use crate::cli::workplace::Workplace;
use crate::document::Document;
use crate::document::chosen::Chosen;
use crate::guide::picture::Pictures as Facts;
use crate::sheets::paper::Paper;
use crate::sheets::{self, Form, Job, Kind, Pictures};
use crate::shop::Store;
use crate::site::{self, File};
use crate::theme::data::{SheetLink, SheetLinks};

/// Whether sheets can be made.
pub(super) const CAN_BE_MADE: bool = true;

/// What came of a guide's sheets.
#[derive(Default)]
pub(super) struct Sheets {
    /// The files with their paths in the site.
    pub(super) files: Vec<File>,
    /// The links to them.
    pub(super) links: Vec<SheetLinks>,
    /// Why a sheet is not there, or what it does not show.
    pub(super) problems: Vec<String>,
}

/// What beside its document a guide's sheets are made from: what they say of the shop, and which the shop file asks for.
pub(super) fn asked_of(workplace: &Workplace, slug: &str) -> impl std::hash::Hash + use<> {
    let sheets::Shop { name, notice, deferral, language, address, say: _ } = shop_of(workplace);
    let ids = |ids: &[crate::guide::model::Text]| ids.iter().map(|id| id.value.clone()).collect::<Vec<_>>();
    let named = workplace.shop.sheets.iter().filter(|sheet| sheet.guide.value == *slug);
    let asked: Vec<_> = named.map(|sheet| (ids(&sheet.with), ids(&sheet.without))).collect();
    ((name, notice, deferral, language, address), asked)
}

/// Makes the sheets of a guide; `photos` are its published pictures.
pub(super) fn make(
    workplace: &Workplace,
    facts: &Facts,
    photos: &[Photo],
    document: &Document,
    store: &dyn Store<Error = Failure>,
) -> Sheets {
    let shop = shop_of(workplace);
    let slug = &document.head.slug;
    let mut pictures = Pictures::new();
    for (address, fact) in facts {
        let Ok(fact) = fact else { continue };
        let narrowest = site::sheet_picture_name(address, *fact);
        let path = format!("guides/{slug}/{narrowest}");
        if let Some(content) = photos.iter().find(|photo| photo.path == path).and_then(|photo| photo.bytes(store)) {
            pictures.insert(address.clone(), content);
        }
    }
    let mut sheets = Sheets::default();
    let named = workplace.shop.sheets.iter().filter(|sheet| sheet.guide.value == *slug);
    let words = |ids: &[crate::guide::model::Text]| ids.iter().map(|id| id.value.clone()).collect::<Vec<_>>();
    let combinations = named.map(|sheet| (words(&sheet.with), words(&sheet.without)));
    for (with, without) in std::iter::once((Vec::new(), Vec::new())).chain(combinations) {
        let chosen = match Chosen::new(&document.choices, &with, &without) {
            Ok(chosen) => chosen,
            Err(why) => {
                sheets.problems.push(format!("{slug}: a sheet that the shop file asks for is not made: {why}"));
                continue;
            }
        };
        let mut print = |kind: Kind, form: Form, what: &'static str| {
            let mut files = Vec::new();
            for paper in Paper::ALL {
                let job =
                    Job { shop: &shop, guide: document, pictures: &pictures, chosen: &chosen, paper, form, record: None, missing: &[] };
                // The folder names the guide already.
                let file = file_name("", kind, &job, "");
                match sheets::sheet(&job, kind) {
                    Ok(made) => {
                        sheets.problems.extend(made.notes.iter().map(|note| format!("{slug}/{file}: {note}")));
                        sheets.files.push((format!("guides/{slug}/{file}"), made.bytes));
                        files.push(SheetLink { file, paper: paper.name().to_owned() });
                    }
                    Err(why) => sheets.problems.push(format!("{slug}: no {file}: {why}")),
                }
            }
            if !files.is_empty() {
                sheets.links.push(SheetLinks { what: what.to_owned(), of: chosen.words(), files });
            }
        };
        print(Kind::Checklist, Form::Full, "Checklist");
        if chosen.words().is_none() {
            print(Kind::Checklist, Form::Short, "Short form");
            if !document.torques.is_empty() {
                print(Kind::Torque, Form::Full, "Torque sheet");
            }
            if !document.parts.is_empty() || !document.kit_hardware.is_empty() {
                print(Kind::Packing, Form::Full, "Packing list");
            }
            if !document.questions.is_empty() {
                print(Kind::Questions, Form::Full, "Questions");
            }
        }
    }
    sheets
}
