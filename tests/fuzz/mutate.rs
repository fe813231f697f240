//! Inputs made from others: slips of single characters, lines that are doubled, moved or dropped, words and values of one text in another,
//! numbers at their ends, words of each format, and now and then bytes of no sense at all.

use std::sync::Arc;

use bayleaf::record;
use serde_json::Value;

/// What an input is, as far as making others of it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A value, a thread, a colour: a few words.
    Words,
    /// A guide.
    Guide,
    /// The shop file.
    Shop,
    /// A drawing.
    Drawing,
    /// A photo.
    Photo,
    /// A record with its seal.
    Record,
    /// An issued revision with its seal.
    Issued,
    /// The list of a kit.
    List,
    /// A template.
    Template,
}

/// No input is longer.
const LONGEST: usize = 48 << 10;

const ANY: &[&str] = &[
    "\u{0}",
    "\u{1b}[2J",
    "\u{7f}",
    "\u{85}",
    "\u{9b}",
    "\u{a0}",
    "\u{ad}",
    "\u{200b}",
    "\u{200d}",
    "\u{202e}",
    "\u{2028}",
    "\u{2066}",
    "\u{feff}",
    "\u{fffd}",
    "\u{301}",
    "\u{1f468}\u{200d}\u{1f527}",
    "\r",
    "\r\n",
    "\t",
    "\n\n",
    "\\",
    "\"",
    "'",
    "`",
    "%",
    "&",
    "<",
    ">",
    "{",
    "}",
    "[",
    "]",
    "(",
    ")",
    "|",
    "=",
    "#",
    "@",
    ":",
    ";",
    ",",
    ".",
    "/",
    "-",
    "–",
    "−",
    "×",
    "½",
    "²",
    "°",
    "µ",
    "Ω",
    "İ",
    "ß",
    "ǅ",
    "٣",
    "𝟘",
];
const NUMBERS: &[&str] = &[
    "0",
    "-0",
    "1",
    "-1",
    "7",
    "99",
    "255",
    "256",
    "65536",
    "2147483647",
    "2147483648",
    "4294967295",
    "4294967296",
    "9223372036854775807",
    "9223372036854775808",
    "18446744073709551616",
    "340282366920938463463374607431768211456",
    "0.000000000000000000000000000001",
    "1e308",
    "1e-400",
    "1/0",
    "0/0",
    "1/3",
    "1 1/2",
    "1.000.000",
    "1,000",
    "00012",
    "0x10",
    "NaN",
    "inf",
    "1..2",
    "2..1",
    "5 ± 9",
    "1_000",
    "100 %",
];
const WORDS: &[&str] = &[
    "N·m",
    "Nm",
    "N.m",
    "lb·ft",
    "ft-lb",
    "lb·in",
    "kgf·m",
    "°",
    "deg",
    "turn",
    "mm",
    "cm",
    "\"",
    "in",
    "'",
    "ft",
    "bar",
    "kPa",
    "psi",
    "l",
    "US gal",
    "qt",
    "kg",
    "oz",
    "kN",
    "°C",
    "°F",
    "K",
    "s",
    "min",
    "h",
    "A",
    "mA",
    "V",
    "mV",
    "Ω",
    "kΩ",
    "W",
    "rpm",
    "1/min",
    "mm²",
    "AWG",
    "kcmil",
    "max.",
    "min",
    "at least",
    "about",
    "approx.",
    "±",
    "+",
    "to",
    "..",
    "–",
    "or",
    "and",
    "/",
    "(",
    ")",
    "per",
    "each",
    "then",
    "plus",
    "M8",
    "M8x1.25",
    "M10 × 1,5 × 30",
    "1/4-20 UNC",
    "3/8\"-16",
    "#10-32 UNF",
    "G1/2",
    "1/2 NPT",
    "ST4.2",
    "Tr 20x4",
    "PG 16",
    "8.8",
    "10.9",
    "A2-70",
    "grade 5",
    "LH",
    "-6g",
    "13 mm hex",
    "T30",
    "PH2",
    "E12",
    "5/16 in",
    "RD",
    "BU/WH",
    "red-white",
    "GNYE",
    "green/yellow",
    "brown with a white stripe",
    "20 A",
    "7.5",
    "maxi",
    "2/0 AWG",
    "4/0",
    "0.75 mm²",
    "25 mm2",
    "4 x bolt",
    "x",
    "pcs",
    "none",
    "untold",
    "untold: the maker",
    "yes",
];
const GUIDE: &[&str] = &[
    "+++\n",
    "+++",
    "\n+++\n+++\n",
    "## ",
    "### ",
    "# ",
    "> ",
    "- ",
    "1. ",
    "| a | b |\n|---|---|\n| 1 | 2 |\n",
    "```\n",
    "~~~",
    "***",
    "---\n",
    "[x]: y\n",
    "[a](#b)",
    "[](spec:base-bolt)",
    "[](<fit: base, 4 x base-bolt>)",
    "![x](y.svg)",
    "<b>",
    "<!-- -->",
    "&amp;",
    "{minutes=20}",
    "{#id}",
    "\\\n",
    "[[item]]\n",
    "[[part]]\n",
    "[[hardware]]\n",
    "[[spec]]\n",
    "[[tool]]\n",
    "[[caution]]\n",
    "[[option]]\n",
    "[[connector]]\n",
    "[[circuit]]\n",
    "[[accept]]\n",
    "[[change]]\n",
    "[[callout]]\n",
    "[[wire]]\n",
    "[[rule]]\n",
    "[[sheet]]\n",
    "[[vehicle]]\n",
    "id = \"a\"\n",
    "name = \"\"\n",
    "title = \"x\"\n",
    "revision = \"B\"\n",
    "fits = []\n",
    "when = \"not a\"\n",
    "when = [\"a\", \"not b\"]\n",
    "needs = [\"s1\"]\n",
    "do = []\n",
    "do = [{ fit = \"base\" }]\n",
    "do = [\n  { tighten = \"bolt\", hardware = \"4 x bolt\", torque = \"bolt\" },\n]\n",
    "count = 3\n",
    "supplied = 4\n",
    "on_vehicle = 2\n",
    "one_of = \"g\"\n",
    "behind = [\"cover\"]\n",
    "torque = \"45 N·m (33 lb·ft)\"\n",
    "stages = [\"50 %\", \"100 %\"]\n",
    "order = \"1 3 / 2 4\"\n",
    "order = \"crosswise\"\n",
    "wait = \"3 min\"\n",
    "hold_point = \"x\"\n",
    "issued = 2026-02-31\n",
    "minutes = -1\n",
    "= ",
    "\"\"\"",
    "'''",
    "{",
    "}",
    "[",
    "]",
    ", ",
    "remove = ",
    "connect = ",
    "disconnect = ",
    "loosen = ",
    "tighten = ",
    "spec.a = \"5 N·m; dry; sheet (p. 1)\"\n",
    "hardware.b = \"4 x Bolt; M8; 8.8\"\n",
    "item.c = \"Cover\"\n",
    "Tighten it to 45 N·m. ",
    "Disconnect the battery. ",
    "Remove the cover, left and right. ",
    "Wait 10 minutes. ",
    "See step 99. ",
    "about 3 ft-lb ",
];
const DRAWING: &[&str] = &[
    "<g>",
    "</g>",
    "<svg>",
    "</svg>",
    "<rect x=\"0\" y=\"0\" width=\"9\" height=\"9\"/>",
    "<path d=\"M0 0L9 9z\"/>",
    "<path d=\"M1e9 1e9a1 1 0 1 1 1e-9 0\"/>",
    "<text>x</text>",
    "<tspan/>",
    "<use href=\"#a\"/>",
    "<use xlink:href=\"#a\"/>",
    "<symbol id=\"a\">",
    "<defs>",
    "</defs>",
    "<style>",
    "</style>",
    "<![CDATA[",
    "]]>",
    "<!--",
    "-->",
    "<?xml version=\"1.0\"?>",
    "<!DOCTYPE svg [<!ENTITY a \"b\">]>",
    "&a;",
    "&#0;",
    "&#x10ffff;",
    "<script>",
    "</script>",
    "<a href=\"x\">",
    "<image href=\"x\"/>",
    "<foreignObject/>",
    "<linearGradient id=\"a\"><stop offset=\"2\"/></linearGradient>",
    "<pattern id=\"a\" width=\"1e-30\" height=\"1e-30\">",
    "</pattern>",
    "<mask id=\"a\">",
    "</mask>",
    "<clipPath id=\"a\">",
    "<marker id=\"a\">",
    "<filter id=\"a\">",
    "<animate/>",
    "<set/>",
    "<switch>",
    " onload=\"x\"",
    " href=\"#a\"",
    " href=\"javascript:x\"",
    " style=\"fill:url(#a)\"",
    " style=\"fill:u\\72l(x)\"",
    " fill=\"url(#a)\"",
    " transform=\"scale(0)\"",
    " transform=\"matrix(1e30 0 0 1e30 0 0)\"",
    " viewBox=\"0 0 0 0\"",
    " viewBox=\"0 0 1e9 1e-9\"",
    " width=\"100%\"",
    " width=\"-1\"",
    " height=\"1e30\"",
    " id=\"a\"",
    " class=\"a\"",
    " xmlns=\"http://www.w3.org/2000/svg\"",
    " xmlns:a=\"b\"",
    " stroke-dasharray=\"0 0\"",
    " stroke-width=\"1e30\"",
    " font-size=\"0\"",
    " opacity=\"2\"",
    "@import \"x\";",
    "@media print{",
    "}",
    "a{fill:red}",
    "url(x)",
    "image-set(",
    "\\72",
    "/*",
    "*/",
    "!important",
];
const RECORD: &[&str] = &[
    "\"ticks\"",
    "\"torques\"",
    "\"measured\"",
    "\"waits\"",
    "\"notes\"",
    "\"signed\"",
    "\"seal\"",
    "\"format\"",
    "\"version\"",
    "\"guide\"",
    "\"options\"",
    "\"order\"",
    "null",
    "true",
    "false",
    "[]",
    "{}",
    "{\"a\": 1}",
    "\"\"",
    "\"\\u0000\"",
    "\"\\ud800\"",
    "\"45 N·m\"",
    "\"2026-11-27 00:01\"",
    "[[[[[[[[[[[[[[[[[[[[",
    ",\n  \"seal\": \"",
    "\"\n}\n",
];
const LIST: &[&str] = &[
    ",",
    ";",
    "\t",
    "\"",
    "\"\"",
    "4 x ",
    "qty",
    "name",
    "thread",
    "length",
    "class",
    "M8x1.25",
    "1/4-20",
    "×",
    "pcs",
    "\n\n",
    "Bolt, M8 x 30",
    "12",
    "TH-1",
];
const TEMPLATE: &[&str] = &[
    "{{ ",
    " }}",
    "{% ",
    " %}",
    "{# ",
    " #}",
    "{{ guide.title }}",
    "{% if guide %}",
    "{% endif %}",
    "{% for a in guide.phases %}",
    "{% endfor %}",
    "{% include \"foot.html\" %}",
    "{% extends \"page.html\" %}",
    "{% block a %}",
    "{% endblock %}",
    " | safe",
    " | upper",
    " | default(value=1)",
    "{% set a = 1 %}",
    "{{ 1 / 0 }}",
    "{{ a.b.c }}",
    "{{ 9223372036854775807 + 1 }}",
    "[0]",
    "{% raw %}",
    "{% endraw %}",
    "{%- ",
    " -%}",
];

/// Makes inputs.
pub(super) struct Mutator {
    dice: fastrand::Rng,
    kind: Kind,
}

impl Mutator {
    pub(super) fn new(seed: u64, kind: Kind) -> Self {
        Mutator { dice: fastrand::Rng::with_seed(seed ^ (kind as u64) << 32), kind }
    }

    pub(super) fn below(&mut self, end: usize) -> usize {
        if end == 0 { 0 } else { self.dice.usize(..end) }
    }

    fn often(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    /// The next input.
    pub(super) fn next(&mut self, inputs: &[Arc<[u8]>]) -> Vec<u8> {
        if self.often(2) {
            return self.nonsense();
        }
        let mut input = inputs[self.below(inputs.len())].to_vec();
        let most = if self.often(15) { 24 } else { 4 };
        let treats = 1 + self.below(most);
        // What is sealed is changed below its seal as often as above it.
        if self.kind == Kind::Record
            && self.often(70)
            && let Some(sealed) = self.record(&input, treats)
        {
            return sealed;
        }
        for _ in 0..treats {
            self.treat(&mut input, inputs);
        }
        if self.kind == Kind::Issued && self.often(70) {
            input = resealed(&input);
        }
        input.truncate(LONGEST);
        input
    }

    fn nonsense(&mut self) -> Vec<u8> {
        let many = self.below(200);
        if self.often(50) {
            return (0..many).map(|_| self.dice.u8(..)).collect();
        }
        let mut text = String::new();
        for _ in 0..many {
            match self.below(3) {
                0 => text.push(self.dice.char(..)),
                1 => text.push_str(self.token()),
                _ => text.push(char::from(self.dice.u8(32..127))),
            }
        }
        text.into_bytes()
    }

    fn token(&mut self) -> &'static str {
        let own = match self.kind {
            Kind::Words => WORDS,
            Kind::Guide | Kind::Shop | Kind::Issued => GUIDE,
            Kind::Drawing => DRAWING,
            Kind::Record => RECORD,
            Kind::List => LIST,
            Kind::Template => TEMPLATE,
            Kind::Photo => NUMBERS,
        };
        let list = match self.below(10) {
            0 | 1 => ANY,
            2 => NUMBERS,
            3 if self.kind != Kind::Drawing => WORDS,
            _ => own,
        };
        list[self.below(list.len())]
    }

    /// One change.
    fn treat(&mut self, input: &mut Vec<u8>, inputs: &[Arc<[u8]>]) {
        let binary = self.kind == Kind::Photo;
        let choice = self.below(if binary { 6 } else { 16 });
        match choice {
            0 => {
                let at = self.below(input.len());
                if let Some(byte) = input.get_mut(at) {
                    *byte ^= 1 << self.dice.u8(..8);
                }
            }
            1 => {
                let at = self.below(input.len());
                let byte = self.dice.u8(..);
                if let Some(old) = input.get_mut(at) {
                    *old = byte;
                }
            }
            2 => {
                let (start, end) = self.range(input);
                input.drain(start..end);
            }
            3 => {
                let (start, end) = self.range(input);
                let copy = input[start..end].to_vec();
                let times = if self.often(10) { 1 + self.below(64) } else { 1 };
                let at = self.edge(input);
                if input.len() + copy.len() * times < LONGEST {
                    input.splice(at..at, copy.repeat(times));
                }
            }
            4 => {
                let other = &inputs[self.below(inputs.len())];
                let (start, end) = self.range(other);
                let at = self.edge(input);
                input.splice(at..at, other[start..end].iter().copied());
            }
            5 => {
                let at = self.below(input.len());
                let value = self.dice.u32(..).to_be_bytes();
                for (place, byte) in input.iter_mut().skip(at).zip(value) {
                    *place = byte;
                }
            }
            6 | 7 => {
                let token = self.token();
                let at = self.edge(input);
                input.splice(at..at, token.bytes());
            }
            8 => self.number(input),
            9 | 10 => self.word(input, inputs),
            11..=13 => self.line(input, inputs),
            14 => self.value(input, inputs),
            _ => {
                // Deep in one another.
                let pairs = [("[", "]"), ("{", "}"), ("(", ")"), ("<g>", "</g>"), ("> ", ""), ("- ", ""), ("*", "*"), ("{\"a\":", "}")];
                let (open, close) = pairs[self.below(pairs.len())];
                let (start, end) = self.range(input);
                let times = [2, 8, 40, 130, 700][self.below(5)];
                if input.len() + times * 8 < LONGEST {
                    input.splice(end..end, close.repeat(times).into_bytes());
                    input.splice(start..start, open.repeat(times).into_bytes());
                }
            }
        }
    }

    /// A place between two characters.
    fn edge(&mut self, input: &[u8]) -> usize {
        let mut at = self.below(input.len() + 1);
        while at < input.len() && input[at] & 0xc0 == 0x80 {
            at += 1;
        }
        at
    }

    /// A stretch, short most of the time.
    fn range(&mut self, input: &[u8]) -> (usize, usize) {
        let start = self.edge(input);
        let most = if self.often(70) { 12 } else { 400 };
        let mut end = (start + 1 + self.below(most)).min(input.len());
        while end < input.len() && input[end] & 0xc0 == 0x80 {
            end += 1;
        }
        (start, end)
    }

    /// A number at one of its ends.
    fn number(&mut self, input: &mut Vec<u8>) {
        let places = pieces(input, |byte| byte.is_ascii_digit());
        let Some(&(start, end)) = places.get(self.below(places.len())) else { return };
        let number = NUMBERS[self.below(NUMBERS.len())];
        input.splice(start..end, number.bytes());
    }

    /// A word of another text, or another one of this.
    fn word(&mut self, input: &mut Vec<u8>, inputs: &[Arc<[u8]>]) {
        let of_word = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.') || byte >= 0x80;
        let places = pieces(input, of_word);
        let other = if self.often(50) { input.clone() } else { inputs[self.below(inputs.len())].to_vec() };
        let others = pieces(&other, of_word);
        let (Some(&(start, end)), Some(&(from, to))) = (places.get(self.below(places.len())), others.get(self.below(others.len()))) else {
            return;
        };
        input.splice(start..end, other[from..to].iter().copied());
    }

    /// What stands between quotation marks in another place.
    fn value(&mut self, input: &mut Vec<u8>, inputs: &[Arc<[u8]>]) {
        let places = pieces(input, |byte| byte != b'"' && byte != b'\n');
        let other = inputs[self.below(inputs.len())].clone();
        let others = pieces(&other, |byte| byte != b'"' && byte != b'\n');
        let (Some(&(start, end)), Some(&(from, to))) = (places.get(self.below(places.len())), others.get(self.below(others.len()))) else {
            return;
        };
        input.splice(start..end, other[from..to].iter().copied());
    }

    /// Lines doubled, dropped, swapped, or taken from another text.
    fn line(&mut self, input: &mut Vec<u8>, inputs: &[Arc<[u8]>]) {
        let lines: Vec<&[u8]> = input.split_inclusive(|byte| *byte == b'\n').collect();
        if lines.is_empty() {
            return;
        }
        let mut lines: Vec<Vec<u8>> = lines.into_iter().map(<[u8]>::to_vec).collect();
        let at = self.below(lines.len());
        let most = if self.often(20) { 12 } else { 2 };
        let many = 1 + self.below(most);
        let end = (at + many).min(lines.len());
        match self.below(5) {
            0 => drop(lines.drain(at..end)),
            1 => {
                let copy: Vec<Vec<u8>> = lines[at..end].to_vec();
                let to = self.below(lines.len() + 1);
                lines.splice(to..to, copy);
            }
            2 => {
                let other = self.below(lines.len());
                lines.swap(at, other);
            }
            3 => {
                let moved: Vec<Vec<u8>> = lines.drain(at..end).collect();
                let to = self.below(lines.len() + 1);
                lines.splice(to..to, moved);
            }
            _ => {
                let other = &inputs[self.below(inputs.len())];
                let others: Vec<&[u8]> = other.split_inclusive(|byte| *byte == b'\n').collect();
                let from = self.below(others.len());
                let copy: Vec<Vec<u8>> = others.iter().skip(from).take(many).map(|line| line.to_vec()).collect();
                lines.splice(at..at, copy);
            }
        }
        *input = lines.concat();
    }

    /// A place in a tree, so deep or less.
    fn place<'v>(&mut self, value: &'v mut Value, depth: usize) -> &'v mut Value {
        let many = match value {
            Value::Object(fields) => fields.len(),
            Value::Array(list) => list.len(),
            _ => 0,
        };
        if depth == 0 || many == 0 {
            return value;
        }
        let at = self.below(many);
        let inner = match value {
            Value::Object(fields) => fields.values_mut().nth(at),
            Value::Array(list) => list.get_mut(at),
            _ => None,
        };
        self.place(inner.expect("it has so many"), depth - 1)
    }

    /// A record with fields changed, doubled or dropped, sealed anew.
    fn record(&mut self, input: &[u8], treats: usize) -> Option<Vec<u8>> {
        let mut record: Value = serde_json::from_slice(input).ok()?;
        record.as_object_mut()?.remove("seal");
        for _ in 0..treats {
            let depth = 1 + self.below(4);
            let at = self.place(&mut record, depth);
            match (self.below(8), &mut *at) {
                (0 | 1, Value::String(text)) => {
                    let mut bytes = text.clone().into_bytes();
                    self.treat(&mut bytes, &[Arc::from(input)]);
                    *text = String::from_utf8_lossy(&bytes).into_owned();
                }
                (2, Value::Array(list)) if !list.is_empty() => {
                    let place = self.below(list.len());
                    list.remove(place);
                }
                (3 | 4, Value::Array(list)) if !list.is_empty() => {
                    let copy = list[self.below(list.len())].clone();
                    list.push(copy);
                }
                (2, Value::Object(fields)) if !fields.is_empty() => {
                    let key = fields.keys().nth(self.below(fields.len()))?.clone();
                    fields.remove(&key);
                }
                (_, place) => {
                    let token = self.token();
                    *place = serde_json::from_str(token).unwrap_or_else(|_| Value::String(token.to_owned()));
                }
            }
        }
        let body = serde_json::to_string_pretty(&record).ok()?;
        let body = body.strip_suffix("\n}")?;
        Some(format!("{body},\n  \"seal\": \"{}\"\n}}\n", record::seal(body)).into_bytes())
    }
}

/// The stretches of bytes that are of a sort.
fn pieces(input: &[u8], of: impl Fn(u8) -> bool) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut start = None;
    for (at, byte) in input.iter().enumerate() {
        match (of(*byte), start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                found.push((from, at));
                start = None;
            }
            _ => {}
        }
    }
    found.extend(start.map(|from| (from, input.len())));
    found
}

/// An issued revision with the seal of what it says now, where it has the shape of one.
fn resealed(input: &[u8]) -> Vec<u8> {
    let text = String::from_utf8_lossy(input).replace("\r\n", "\n");
    let Some((head, rest)) = text.split_once("\nseal ") else { return input.to_vec() };
    let Some((_, body)) = rest.split_once("\n\n") else { return input.to_vec() };
    // As `bayleaf::issued` makes it: over the head with its last line end, and the body.
    let seal = record::seal(&format!("{head}\n{body}"));
    format!("{head}\nseal         {seal}\n\n{body}").into_bytes()
}
