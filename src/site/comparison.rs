//! A comparison as data for templates: differences by place, for its own page and for the panel on a guide's page.

use sha2::{Digest, Sha256};

use crate::compare::Difference;
use crate::compare::text::Comparison;
use crate::guide::model::Shop;
use crate::site::findings_page::base64;
use crate::site::page_data::{Compared, ComparedGuide, ComparedPlace, ComparedRow, VERSION};
use crate::site::theme::Theme;

/// The data of the page.
pub fn page(comparisons: &[Comparison], shop: &Shop, theme: &Theme) -> Compared {
    let style = ["sheet.css", "compared.css"].map(|name| theme.text(name)).join("\n");
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
        places: places(&comparison.differences),
    }
}

/// Differences by place, in the order of the guide.
pub fn places(differences: &[Difference]) -> Vec<ComparedPlace> {
    let mut places: Vec<ComparedPlace> = Vec::new();
    for difference in differences {
        let name = difference.step.as_ref().map_or("The guide".to_owned(), |step| format!("S{}", &step.name[1..]));
        let id = difference.step.as_ref().filter(|step| step.is_there).map(|step| step.id.clone());
        let row = ComparedRow {
            kind: difference.kind.word(),
            sort: difference.sort.word(),
            what: difference.what.clone(),
            old: difference.old.clone(),
            new: difference.new.clone(),
            by: difference.by.clone(),
            look: difference.calls_for_a_look(),
        };
        match places.last_mut().filter(|place| place.name == name) {
            Some(place) => place.rows.push(row),
            None => places.push(ComparedPlace { id, name, rows: vec![row] }),
        }
    }
    places
}
