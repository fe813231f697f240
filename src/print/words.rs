//! The words of page data as a sheet sets them: finished markup, as `publish::html` writes it, taken apart into runs and blocks. Paper
//! and screen have one text because they are made from one.

/// Words of one weight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// The words.
    pub text: String,
    /// Whether they are set bold.
    pub strong: bool,
}

impl Run {
    /// Words in the usual weight.
    pub fn plain(text: impl Into<String>) -> Self {
        Run { text: text.into(), strong: false }
    }

    /// Words in bold.
    pub fn strong(text: impl Into<String>) -> Self {
        Run { text: text.into(), strong: true }
    }
}

/// Words in runs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Words(pub Vec<Run>);

impl Words {
    /// Words in the usual weight.
    pub fn plain(text: impl Into<String>) -> Self {
        Words(vec![Run::plain(text)])
    }

    /// Words in bold.
    pub fn strong(text: impl Into<String>) -> Self {
        Words(vec![Run::strong(text)])
    }

    /// A line of finished markup.
    pub fn of_html(html: &str) -> Self {
        let mut words = Words::default();
        for block in blocks(html) {
            let more = match block {
                Block::Paragraph(words) | Block::Heading(words) | Block::Item { words, .. } => words,
                Block::Code(text) => Words::plain(text),
                Block::Picture { .. } | Block::Table { .. } => continue,
            };
            if !words.is_empty() {
                words.push(" ");
            }
            words.0.extend(more.0);
        }
        words
    }

    /// Whether there is nothing to read.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|run| run.text.trim().is_empty())
    }

    /// Adds words in the usual weight.
    pub fn push(&mut self, text: &str) {
        match self.0.last_mut() {
            Some(run) if !run.strong => run.text.push_str(text),
            _ => self.0.push(Run::plain(text)),
        }
    }

    /// Adds words in bold.
    pub fn push_strong(&mut self, text: &str) {
        self.0.push(Run::strong(text));
    }

    /// Adds other words.
    pub fn append(&mut self, other: Words) {
        self.0.extend(other.0);
    }

    /// The text alone.
    pub fn text(&self) -> String {
        self.0.iter().map(|run| run.text.as_str()).collect()
    }

    fn trimmed(mut self) -> Self {
        if let Some(first) = self.0.first_mut() {
            first.text = first.text.trim_start().to_owned();
        }
        if let Some(last) = self.0.last_mut() {
            last.text = last.text.trim_end().to_owned();
        }
        self
    }
}

/// A part of a text that stands by itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    /// A paragraph.
    Paragraph(Words),
    /// A heading inside a step.
    Heading(Words),
    /// A row of a list.
    Item {
        /// How deep it is nested, from 0.
        depth: usize,
        /// Its dot or number.
        label: String,
        /// Its words.
        words: Words,
    },
    /// Lines that keep their breaks.
    Code(String),
    /// A picture.
    Picture {
        /// Its file beside the guide's page.
        file: String,
        /// What it shows.
        words: String,
        /// The line under it.
        caption: String,
        /// A drawing laid over it, as SVG: the balloons of its callouts.
        over: Option<String>,
    },
    /// A table.
    Table {
        /// Its first row.
        head: Vec<Words>,
        /// The others.
        rows: Vec<Vec<Words>>,
    },
}

/// Takes finished markup apart.
pub fn blocks(html: &str) -> Vec<Block> {
    let mut reader = Reader::default();
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        reader.text(&unescape(&rest[..at]));
        let Some(end) = rest[at..].find('>') else { break };
        let tag = &rest[at + 1..at + end];
        // A drawing inside the markup belongs to the picture before it.
        if tag.starts_with("svg") {
            let end = rest[at..].find("</svg>").map_or(rest.len(), |end| at + end + "</svg>".len());
            if let Some(Block::Picture { over, .. }) = reader.pictures.last_mut() {
                *over = Some(rest[at..end].to_owned());
            }
            rest = &rest[end..];
            continue;
        }
        reader.tag(tag);
        rest = &rest[at + end + 1..];
    }
    reader.text(&unescape(rest));
    reader.end();
    reader.blocks
}

#[derive(Default)]
struct Reader {
    blocks: Vec<Block>,
    words: Words,
    strong: usize,
    /// Whether each open list counts its rows, and how many it has.
    lists: Vec<Option<usize>>,
    /// The label of the row that is being read.
    label: Option<String>,
    heading: bool,
    code: bool,
    caption: Option<Words>,
    /// Inside the second of two units.
    beside: bool,
    /// Inside what the first of two units has said for both.
    skips: bool,
    table: Option<(Vec<Words>, Vec<Vec<Words>>)>,
    row: Vec<Words>,
    pictures: Vec<Block>,
}

impl Reader {
    fn text(&mut self, text: &str) {
        if text.is_empty() || self.skips {
            return;
        }
        let text: String = if self.code { text.to_owned() } else { text.replace(['\n', '\t'], " ") };
        let strong = self.strong > 0;
        let words = self.caption.as_mut().unwrap_or(&mut self.words);
        if strong { words.push_strong(&text) } else { words.push(&text) }
    }

    /// Ends what is being read and makes it a block.
    fn end(&mut self) {
        let words = std::mem::take(&mut self.words).trimmed();
        if !words.is_empty() {
            let block = match &mut self.label {
                _ if self.code => Block::Code(words.text()),
                _ if self.heading => Block::Heading(words),
                // Only the first paragraph of a row has its dot.
                Some(label) => Block::Item { depth: self.lists.len().saturating_sub(1), label: std::mem::take(label), words },
                None => Block::Paragraph(words),
            };
            self.blocks.push(block);
        }
        self.blocks.append(&mut self.pictures);
    }

    fn tag(&mut self, tag: &str) {
        let (closes, tag) = tag.strip_prefix('/').map_or((false, tag), |tag| (true, tag));
        let name = tag.split([' ', '/', '\n']).next().unwrap_or_default();
        let class = attribute(tag, "class").unwrap_or_default();
        match (name, closes) {
            ("b" | "strong" | "em", false) => self.strong += 1,
            ("b" | "strong" | "em", true) => self.strong = self.strong.saturating_sub(1),
            // The value in the other units stands beside the first in the page, and in brackets on a sheet.
            ("i", false) if class == "u" || class == "m" => {
                self.text("(");
                self.beside = true;
            }
            ("i", true) => {
                self.text(")");
                self.beside = false;
            }
            // What is a limit is said before the first value.
            ("span", false) if class == "lim" && self.beside => self.skips = true,
            ("span", true) => self.skips = false,
            ("br", _) => self.text("\n"),
            ("ul", false) => self.open_list(None),
            ("ol", false) => {
                let start = attribute(tag, "start").and_then(|start| start.parse::<usize>().ok()).unwrap_or(1);
                self.open_list(Some(start.saturating_sub(1)));
            }
            ("ul" | "ol", true) => {
                self.end();
                self.lists.pop();
                self.label = None;
            }
            ("li", false) => {
                self.end();
                let label = match self.lists.last_mut() {
                    Some(Some(count)) => {
                        *count += 1;
                        format!("{count}.")
                    }
                    _ => "•".to_owned(),
                };
                self.label = Some(label);
            }
            ("h1" | "h2" | "h3" | "h4" | "h5" | "h6", _) => {
                self.end();
                self.heading = !closes;
            }
            ("pre", _) => {
                self.end();
                self.code = !closes;
            }
            ("img", _) => {
                let words = unescape(attribute(tag, "alt").unwrap_or_default());
                let file = unescape(attribute(tag, "src").unwrap_or_default());
                self.pictures.push(Block::Picture { file, words, caption: String::new(), over: None });
            }
            ("figcaption", false) => self.caption = Some(Words::default()),
            ("figcaption", true) => {
                let words = self.caption.take().unwrap_or_default();
                // A list of what the balloons point to may stand between a picture and its line.
                let mut pictures = self.blocks.iter_mut().chain(&mut self.pictures).rev();
                let caption = pictures.find_map(|block| match block {
                    Block::Picture { caption, .. } => Some(caption),
                    _ => None,
                });
                match caption {
                    Some(caption) => *caption = words.text(),
                    None => self.blocks.push(Block::Paragraph(words)),
                }
            }
            ("table", false) => {
                self.end();
                self.table = Some((Vec::new(), Vec::new()));
            }
            ("table", true) => {
                if let Some((head, rows)) = self.table.take() {
                    self.blocks.push(Block::Table { head, rows });
                }
            }
            ("td" | "th", true) => {
                let cell = std::mem::take(&mut self.words).trimmed();
                self.row.push(cell);
            }
            ("tr", true) => {
                let row = std::mem::take(&mut self.row);
                if let Some((head, rows)) = &mut self.table {
                    if head.is_empty() { *head = row } else { rows.push(row) }
                }
            }
            ("p" | "div" | "figure" | "blockquote" | "hr" | "li" | "dd", _) if self.table.is_none() => self.end(),
            _ => {}
        }
    }

    fn open_list(&mut self, counts: Option<usize>) {
        self.end();
        self.lists.push(counts);
    }
}

/// The value of an attribute as it stands in the markup.
fn attribute<'t>(tag: &'t str, name: &str) -> Option<&'t str> {
    let needle = format!(" {name}=\"");
    let start = tag.find(&needle)? + needle.len();
    tag[start..].split('"').next()
}

/// Text without character references.
fn unescape(text: &str) -> String {
    if !text.contains('&') {
        return text.to_owned();
    }
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('&') {
        plain.push_str(&rest[..at]);
        rest = &rest[at..];
        let end = rest.find(';').unwrap_or(0);
        let known = match &rest[..end] {
            "&amp" => Some('&'),
            "&lt" => Some('<'),
            "&gt" => Some('>'),
            "&quot" => Some('"'),
            number => {
                let code = number.strip_prefix("&#");
                let code = code.and_then(|code| code.strip_prefix('x').map_or(code.parse().ok(), |hex| u32::from_str_radix(hex, 16).ok()));
                code.and_then(char::from_u32)
            }
        };
        match known {
            Some(c) => {
                plain.push(c);
                rest = &rest[end + 1..];
            }
            None => {
                plain.push('&');
                rest = &rest[1..];
            }
        }
    }
    plain.push_str(rest);
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_with_a_value_is_read_as_people_write_it() {
        let html = "Heat to <span class=\"val\"><b class=\"m\">60&#x20;°C</b> <i class=\"u\">140 °F</i></span> &amp; &lt;wait&gt;";
        let words = Words::of_html(html);
        assert_eq!(words.text(), "Heat to 60 °C (140 °F) & <wait>");
        assert_eq!(words.0[1], Run::strong("60 °C"));
        let limit =
            "<b class=\"m\"><span class=\"lim\">max. </span>200 mm</b> <i class=\"u\"><span class=\"lim\">max. </span>7.8 in</i> long";
        assert_eq!(Words::of_html(limit).text(), "max. 200 mm (7.8 in) long");
    }

    #[test]
    fn blocks_come_in_order_with_their_pictures() {
        let html = "<p>One <a href=\"#x\">two</a></p>\n<figure class=\"photo\"><img src=\"a-480.jpg\" alt=\"A &amp; b\" width=\"4\"><svg><text>1</text></svg><figcaption>Under</figcaption></figure>\n\
                    <ol start=\"3\">\n<li>\n<p>first</p>\n<ul>\n<li>inner</li>\n</ul>\n</li>\n<li>second</li>\n</ol>\n\
                    <div class=\"scroll\" tabindex=\"0\"><table><thead><tr><th>h</th></tr></thead><tbody>\n<tr><td>c <b>d</b></td></tr>\n</tbody></table></div>";
        let item = |depth, label: &str, words: &str| Block::Item { depth, label: label.into(), words: Words::plain(words) };
        assert_eq!(
            blocks(html),
            [
                Block::Paragraph(Words::plain("One two")),
                Block::Picture {
                    file: "a-480.jpg".into(),
                    words: "A & b".into(),
                    caption: "Under".into(),
                    over: Some("<svg><text>1</text></svg>".into())
                },
                item(0, "3.", "first"),
                item(1, "•", "inner"),
                item(0, "4.", "second"),
                Block::Table { head: vec![Words::plain("h")], rows: vec![vec![Words(vec![Run::plain("c "), Run::strong("d")])]] },
            ]
        );
    }

    #[test]
    fn nothing_that_looks_like_markup_is_lost() {
        assert_eq!(Words::of_html("a & b &nosuch; c").text(), "a & b &nosuch; c");
    }
}
