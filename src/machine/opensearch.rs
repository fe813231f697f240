//! The description of the site's search (OpenSearch 1.1), so that a browser can offer it beside others. Its template must be a
//! whole address, so there is none without the site's address.

use super::xml;
use crate::guide::model::Shop;

/// The most characters of a short name that the description allows.
const SHORT: usize = 16;

/// The description; words go to the front page, whose script looks them up.
pub fn description(address: &str, shop: &Shop) -> String {
    let short: String = shop.name.chars().take(SHORT).collect();
    // Braces in an address would be read as a parameter.
    let address = xml(&address.replace('{', "%7B").replace('}', "%7D"));
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<OpenSearchDescription xmlns=\"http://a9.com/-/spec/opensearch/1.1/\">\n\
         <ShortName>{}</ShortName>\n<LongName>{}</LongName>\n<Description>Procedures, steps, parts and values of {}</Description>\n\
         <Language>{}</Language>\n<InputEncoding>UTF-8</InputEncoding>\n<OutputEncoding>UTF-8</OutputEncoding>\n\
         <Image width=\"192\" height=\"192\" type=\"image/png\">{address}icon-192.png</Image>\n\
         <Url type=\"text/html\" template=\"{address}index.html?q={{searchTerms}}\"/>\n</OpenSearchDescription>\n",
        xml(short.trim_end()),
        xml(&shop.name.chars().take(48).collect::<String>()),
        xml(&shop.name),
        xml(shop.language.code()),
    )
}
