//! A comparison as data for templates: differences by place, for its own page and for the panel on a guide's page.

use sha2::{Digest, Sha256};

use crate::compare::Difference;
use crate::compare::text::Comparison;
use crate::document::{Differing, Since, phrase};
use crate::guide::model::Shop;
use crate::markup::base64;
use crate::theme::Theme;
use crate::theme::data::{Compared, ComparedGuide, ComparedPlace, ComparedRow, ShortDifference, SinceThen, VERSION};

/// The data of the page.
pub fn page(comparisons: &[Comparison], shop: &Shop, theme: &Theme) -> Compared {
    let style = ["sheet.css", "history.css", "compared.css"].map(|name| theme.text(name)).join("\n");
    Compared {
        version: VERSION,
        language: shop.language.code().to_owned(),
        shop: shop.name.clone(),
        guides: comparisons.iter().map(guide).collect(),
        deferral: shop.deferral.clone(),
        policy: format!(
            "default-src 'none'; style-src 'sha256-{}'; base-uri 'none'; form-action 'none'",
            base64(&Sha256::digest(style.as_bytes()))
        ),
        style,
    }
}

/// A guide in two states.
pub fn guide(comparison: &Comparison) -> ComparedGuide {
    ComparedGuide {
        slug: comparison.slug.clone(),
        title: comparison.title.clone(),
        old: comparison.old.clone(),
        new: comparison.new.clone(),
        verdict: comparison.verdict(),
        look: comparison.looks() > 0,
        touched: comparison.touched.clone(),
        places: places(&comparison.differences.iter().map(Difference::told).collect::<Vec<_>>()),
    }
}

/// Differences by place, in the order of the guide.
pub fn places<'d>(differences: impl IntoIterator<Item = &'d Differing>) -> Vec<ComparedPlace> {
    let mut places: Vec<ComparedPlace> = Vec::new();
    for differing in differences {
        let Differing { step, kind, sort, what, old, new, by, look } = differing;
        let name = step.as_ref().map_or("The guide".to_owned(), |(_, name)| format!("S{}", name.get(1..).unwrap_or_default()));
        let id = step.as_ref().and_then(|(id, _)| id.clone());
        let row = ComparedRow { kind, sort, what: what.clone(), old: old.clone(), new: new.clone(), by: by.clone(), look: *look };
        match places.last_mut().filter(|place| place.name == name) {
            Some(place) => place.rows.push(row),
            None => places.push(ComparedPlace { id, name, rows: vec![row] }),
        }
    }
    places
}

/// The most differences in the panel; all of them stand on the page of the revision before.
const MOST: usize = 5;

/// What the panel tells first.
const GRAVE: [&str; 7] = ["torque", "tightening", "hardware", "caution", "circuit", "order", "value"];

fn shortened(line: String) -> String {
    match line.char_indices().nth(140) {
        Some((end, _)) => format!("{} …", line[..end].trim_end()),
        None => line,
    }
}

/// What differs from a revision before, for the panel on a guide's page.
pub fn since(since: &Since) -> SinceThen {
    let Since { revision, issued, anew, differences } = since;
    let look = || differences.iter().filter(|differing| differing.look);
    let short = |differing: &Differing| ShortDifference {
        id: differing.step.as_ref().and_then(|(id, _)| id.clone()),
        words: shortened(differing.line()),
    };
    SinceThen {
        revision: revision.clone(),
        issued: phrase::date(*issued),
        anew: *anew,
        count: differences.len(),
        look: look().count(),
        first: {
            let mut gravest: Vec<&Differing> = look().collect();
            gravest.sort_by_key(|differing| GRAVE.iter().position(|sort| *sort == differing.sort).unwrap_or(GRAVE.len()));
            gravest.into_iter().take(MOST).map(short).collect()
        },
        places: places(differences),
    }
}
