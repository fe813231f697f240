//! Text that is safe in markup, for every writer of HTML, XML and SVG.

/// Text made safe to stand between tags or in an attribute.
pub fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len() + 8);
    escape_into(&mut escaped, text, true);
    escaped
}

/// The same behind what is written already. Between tags quotation marks may stay as they are.
pub fn escape_into(out: &mut String, text: &str, quotes: bool) {
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' if quotes => out.push_str("&quot;"),
            '\'' if quotes => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
}

/// Text with what stands between backticks as code.
pub fn with_code(text: &str) -> String {
    let mut html = String::new();
    for (at, part) in text.split('`').enumerate() {
        html.push_str(&if at % 2 == 1 { format!("<code>{}</code>", escape(part)) } else { escape(part) });
    }
    html
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_can_end_a_tag_or_an_attribute() {
        assert_eq!(escape("<a b='c' d=\"e\">&"), "&lt;a b=&#39;c&#39; d=&quot;e&quot;&gt;&amp;");
    }

    #[test]
    fn what_is_typed_is_code() {
        assert_eq!(with_code("Write `a < b`, not c."), "Write <code>a &lt; b</code>, not c.");
    }
}
