//! The manifest by which a browser offers to keep the site as an app (W3C Web Application Manifest). All its addresses are
//! relative to itself, so it holds under any path.

use serde::Serialize;

use crate::guide::model::Shop;

/// The icons: file, pixels, purpose.
pub const ICONS: [(&str, u32, &str); 3] =
    [("icon-192.png", 192, "any"), ("icon-512.png", 512, "any"), ("icon-maskable-512.png", 512, "maskable")];

#[derive(Serialize)]
struct Manifest<'m> {
    id: &'m str,
    name: &'m str,
    short_name: String,
    description: String,
    lang: &'m str,
    start_url: &'m str,
    scope: &'m str,
    /// With a way back, which a page full of links needs.
    display: &'m str,
    background_color: &'m str,
    theme_color: &'m str,
    icons: Vec<Icon>,
}

#[derive(Serialize)]
struct Icon {
    src: &'static str,
    sizes: String,
    r#type: &'static str,
    purpose: &'static str,
}

/// The manifest.
pub fn manifest(shop: &Shop) -> serde_json::Result<Vec<u8>> {
    let icon = |(src, size, purpose)| Icon { src, sizes: format!("{size}x{size}"), r#type: "image/png", purpose };
    let manifest = Manifest {
        id: "./",
        name: &shop.name,
        // What stands below an icon on a phone; there is room for about a dozen letters.
        short_name: shop
            .name
            .split_whitespace()
            .scan(0, |used, word| {
                *used += word.chars().count() + 1;
                (*used <= 13 || *used == word.chars().count() + 1).then_some(word)
            })
            .collect::<Vec<_>>()
            .join(" "),
        description: format!("Installation procedures of {}", shop.name),
        lang: shop.language.code(),
        start_url: "index.html",
        scope: "./",
        display: "minimal-ui",
        background_color: "#f6f5f0",
        theme_color: "#1d4f7c",
        icons: ICONS.into_iter().map(icon).collect(),
    };
    serde_json::to_vec_pretty(&manifest)
}
