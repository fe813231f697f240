//! Whether a finished page says the sentence that puts the vehicle maker, local rules and licensed people first. A shop's own templates
//! may lay it out as they like, but a page without it is not published.

use html5gum::emitters::default::DefaultEmitter;
use html5gum::{Token, Tokenizer};

use crate::theme::ThemeError;

/// Elements whose words no reader sees.
const UNSEEN: [&str; 6] = ["head", "script", "style", "template", "noscript", "title"];

/// Elements that hold nothing, HTML 13.1.2.
const VOID: [&str; 13] = ["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"];

/// Refuses a page that does not say the sentence in words that are seen. What a style hides is not looked at.
///
/// A theme of nothing but `built_in` templates cannot hide it: that they show it is held by tests which read whole pages, so that here it is
/// enough that it is there.
pub fn demand(page: &[u8], deferral: &str, template: &str, built_in: bool) -> Result<(), ThemeError> {
    if built_in && !deferral.is_empty() && memchr::memmem::rfind(page, as_written(deferral).as_bytes()).is_some() {
        return Ok(());
    }
    if squeezed(&seen(&String::from_utf8_lossy(page))).contains(&squeezed(deferral)) {
        return Ok(());
    }
    Err(ThemeError::NoDeferral { template: template.to_owned(), sentence: deferral.to_owned() })
}

/// The sentence as the template engine writes it.
pub(super) fn as_written(deferral: &str) -> String {
    let mut written = String::with_capacity(deferral.len() + 16);
    for c in deferral.chars() {
        match c {
            '&' => written.push_str("&amp;"),
            '<' => written.push_str("&lt;"),
            '>' => written.push_str("&gt;"),
            '"' => written.push_str("&quot;"),
            '\'' => written.push_str("&#39;"),
            c => written.push(c),
        }
    }
    written
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The words of a page that are seen: without tags, comments, what stands in [`UNSEEN`] elements and what carries the attribute `hidden`.
fn seen(html: &str) -> String {
    let mut emitter = DefaultEmitter::default();
    // What stands in scripts and styles is no markup.
    emitter.naively_switch_states(true);
    let mut text = String::with_capacity(html.len() / 4);
    // The element that hides what is in it, and how deep its like is nested.
    let mut hiding: Option<(Vec<u8>, usize)> = None;
    for token in Tokenizer::new_with_emitter(html, emitter).flatten() {
        match token {
            Token::String(words) if hiding.is_none() => text.push_str(&String::from_utf8_lossy(&words)),
            Token::StartTag(tag) => {
                let name: &[u8] = &tag.name;
                let hides = UNSEEN.iter().any(|unseen| unseen.as_bytes() == name) || tag.attributes.contains_key(&b"hidden"[..]);
                match &mut hiding {
                    Some((element, depth)) if element.as_slice() == name => *depth += 1,
                    None if hides && !VOID.iter().any(|void| void.as_bytes() == name) => hiding = Some((name.to_vec(), 1)),
                    _ => {}
                }
            }
            Token::EndTag(tag) => {
                if let Some((element, depth)) = &mut hiding
                    && element.as_slice() == &tag.name[..]
                {
                    *depth -= 1;
                    if *depth == 0 {
                        hiding = None;
                    }
                }
            }
            _ => {}
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    const SENTENCE: &str = "The maker's rules & local law come first.";

    #[track_caller]
    fn says(page: &str, expected: bool) {
        assert_eq!(demand(page.as_bytes(), SENTENCE, "front.html", false).is_ok(), expected, "{page}");
    }

    #[test]
    fn a_page_that_says_it_is_let_pass_however_it_is_marked_up() {
        says("<body><footer><p><strong>The maker&#39;s rules &amp; local law come first.</strong></p></footer>", true);
        says("<p>The maker&#39;s rules &amp;\n  <b>local law</b> come first. More.</p>", true);
        says("<p hidden>a <p>b</p></p><p>The maker's rules &amp; local law come first.", true);
        says("<hr hidden><p>The maker's rules &amp; local law come first.</p>", true);
        says("<p class=\"a hidden b\">The maker's rules &amp; local law come first.</p>", true);
        says("<p title=\"1 > 0\">The maker's rules &amp; local law come first.</p>", true);
        says("<script>if (1 < a) { b(); }</script><p>The maker's rules &amp; local law come first.</p>", true);
        says("<style>a > b { c: \"<div hidden>\" }</style><p>The maker's rules &amp; local law come first.</p>", true);
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
        says("<p HIDDEN>The maker's rules &amp; local law come first.</p>", false);
        says("<textarea hidden>The maker's rules &amp; local law come first.</textarea>", false);
        says("", false);
    }

    #[test]
    fn the_refusal_names_the_template_and_what_to_write() {
        let told = demand(b"<p>x</p>", SENTENCE, "torque.html", true).unwrap_err().to_string();
        assert!(told.contains("`torque.html`") && told.contains("{{ site.deferral }}") && told.contains(SENTENCE), "{told}");
    }
}
