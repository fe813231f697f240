//! Whether a finished page says the sentence that puts the vehicle maker, local rules and licensed people first. A shop's own templates
//! may lay it out as they like, but a page without it is not published.

use crate::site::theme::ThemeError;

/// Elements whose words no reader sees.
const UNSEEN: [&str; 6] = ["head", "script", "style", "template", "noscript", "title"];

/// Refuses a page that does not say the sentence in words that are seen. What a style hides is not looked at.
pub fn demand(page: &[u8], deferral: &str, template: &str) -> Result<(), ThemeError> {
    if squeezed(&seen(&String::from_utf8_lossy(page))).contains(&squeezed(deferral)) {
        return Ok(());
    }
    Err(ThemeError(format!(
        "pages made from the template `{template}` do not say who comes first: \"{deferral}\"\n  = to do: write {{{{ site.deferral }}}} where every reader sees it, as the foot of the built-in base.html and checklist-sheet.html does"
    )))
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The words of a page that are seen: without tags, comments, what stands in [`UNSEEN`] elements and what carries the attribute `hidden`.
fn seen(html: &str) -> String {
    let mut text = String::with_capacity(html.len() / 4);
    let mut rest = html;
    // The element that hides what is in it, and how deep its like is nested.
    let mut hiding: Option<(String, usize)> = None;
    while let Some(at) = rest.find('<') {
        if hiding.is_none() {
            push(&mut text, &rest[..at]);
        }
        let behind = &rest[at..];
        if let Some(comment) = behind.strip_prefix("<!--") {
            rest = comment.find("-->").map_or("", |end| &comment[end + 3..]);
            continue;
        }
        let Some(end) = behind.find('>') else { return text };
        let tag = &behind[1..end];
        let (closes, tag) = tag.strip_prefix('/').map_or((false, tag), |tag| (true, tag));
        let mut words = tag.split([' ', '\n', '\t', '/']).filter(|word| !word.is_empty());
        let name = words.next().unwrap_or_default().to_ascii_lowercase();
        let hides = UNSEEN.contains(&name.as_str()) || words.any(|word| word == "hidden" || word.starts_with("hidden="));
        hiding = match hiding {
            Some((element, depth)) if element == name && closes => (depth > 1).then(|| (element, depth - 1)),
            Some((element, depth)) if element == name => Some((element, depth + 1)),
            None if hides && !closes && !matches!(name.as_str(), "input" | "img" | "br" | "link" | "meta") => Some((name, 1)),
            still => still,
        };
        rest = &behind[end + 1..];
    }
    if hiding.is_none() {
        push(&mut text, rest);
    }
    text
}

/// Adds text with its references resolved.
fn push(text: &mut String, mut markup: &str) {
    while let Some(at) = markup.find('&') {
        text.push_str(&markup[..at]);
        let behind = &markup[at..];
        let end = behind.find(';').filter(|end| *end <= 8);
        let meant = end.and_then(|end| match &behind[1..end] {
            "amp" => Some('&'),
            "lt" => Some('<'),
            "gt" => Some('>'),
            "quot" => Some('"'),
            "apos" => Some('\''),
            "nbsp" => Some(' '),
            number => {
                let number = number.strip_prefix('#')?;
                let code = match number.strip_prefix(['x', 'X']) {
                    Some(hexadecimal) => u32::from_str_radix(hexadecimal, 16),
                    None => number.parse(),
                };
                code.ok().and_then(char::from_u32)
            }
        });
        match (meant, end) {
            (Some(meant), Some(end)) => {
                text.push(meant);
                markup = &behind[end + 1..];
            }
            _ => {
                text.push('&');
                markup = &behind[1..];
            }
        }
    }
    text.push_str(markup);
}

#[cfg(test)]
mod tests {
    use super::*;

    const SENTENCE: &str = "The maker's rules & local law come first.";

    #[track_caller]
    fn says(page: &str, expected: bool) {
        assert_eq!(demand(page.as_bytes(), SENTENCE, "front.html").is_ok(), expected, "{page}");
    }

    #[test]
    fn a_page_that_says_it_is_let_pass_however_it_is_marked_up() {
        says("<body><footer><p><strong>The maker&#39;s rules &amp; local law come first.</strong></p></footer>", true);
        says("<p>The maker&#x27;s rules &amp;\n  <b>local law</b> come first. More.</p>", true);
        says("<p hidden>a <p>b</p></p><p>The maker's rules &amp; local law come first.", true);
        says("<input hidden><p>The maker's rules &amp; local law come first.</p>", true);
    }

    #[test]
    fn a_page_that_lacks_it_or_shows_it_to_nobody_is_refused() {
        says("<p>Local law comes first.</p>", false);
        says("<!-- The maker's rules & local law come first. --><p>x</p>", false);
        says("<head><title>The maker's rules & local law come first.</title></head><p>x</p>", false);
        says("<div hidden><div>a</div>The maker's rules &amp; local law come first.</div><p>x</p>", false);
        says("<p title=\"The maker's rules & local law come first.\">x</p>", false);
        says("<script>\"The maker's rules & local law come first.\"</script>", false);
        says("", false);
    }

    #[test]
    fn the_refusal_names_the_template_and_what_to_write() {
        let told = demand(b"<p>x</p>", SENTENCE, "torque.html").unwrap_err().to_string();
        assert!(told.contains("`torque.html`") && told.contains("{{ site.deferral }}") && told.contains(SENTENCE), "{told}");
    }
}
