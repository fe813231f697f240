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

/// Base 64 (RFC 4648), as a content-security policy writes hashes.
pub fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for chunk in bytes.chunks(3) {
        let number = chunk.iter().fold(0u32, |number, byte| number << 8 | u32::from(*byte)) << (8 * (3 - chunk.len()));
        for digit in 0..4 {
            let shown = digit <= chunk.len();
            text.push(if shown { char::from(DIGITS[(number >> (18 - 6 * digit) & 63) as usize]) } else { '=' });
        }
    }
    text
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

    #[test]
    fn base64_is_that_of_the_standard() {
        // RFC 4648, section 10.
        for (text, wanted) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg=="), ("foobar", "Zm9vYmFy")] {
            assert_eq!(base64(text.as_bytes()), wanted);
        }
    }
}
