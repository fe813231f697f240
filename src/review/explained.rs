//! What a rule says to authors, cut out of the file `<rule>.md` beside its check while the program is compiled:
//! a file in another form does not compile.

/// What a rule says to authors: one file, read by the handbook, by `bayleaf review --rule` and by the tests.
#[derive(Clone, Copy, Debug)]
pub struct Explained {
    /// The rule's name, as the heading has it.
    pub name: &'static str,
    /// What is wrong, in one sentence.
    pub summary: &'static str,
    /// Why it matters.
    pub why: &'static str,
    /// How to mend it.
    pub mend: &'static str,
    /// The published source, or "common practice".
    pub basis: &'static str,
    /// A guide, shop file or drawing that has the fault; empty where no text can show it.
    pub bad: &'static str,
    /// The same without the fault.
    pub good: &'static str,
}

/// A block of text stands between two lines that begin so.
const FENCE: &str = "````";

impl Explained {
    /// Cuts the file apart. It has a heading, one line, and five sections in this order; nothing else.
    pub(crate) const fn read(text: &'static str) -> Explained {
        let (top, rest) = before(text, "## Why it matters");
        let (why, rest) = before(rest, "## How to mend it");
        let (mend, rest) = before(rest, "## Basis");
        let (basis, rest) = before(rest, "## With the fault");
        let (bad, good) = before(rest, "## Without it");
        let (name, summary) = top.split_at(line_end(top, 0));
        assert!(starts(name, 0, "# "), "a rule's file starts with its name as heading");
        Explained {
            name: name.split_at(2).1,
            summary: only_line(summary),
            why: only_line(why),
            mend: only_line(mend),
            basis: only_line(basis),
            bad: shown(bad),
            good: shown(good),
        }
    }
}

/// What stands before the heading, and what stands after it. A line in a fence is no heading.
const fn before(text: &'static str, heading: &str) -> (&'static str, &'static str) {
    let (mut at, mut fenced) = (0, false);
    while at < text.len() {
        let end = line_end(text, at);
        if starts(text, at, FENCE) {
            fenced = !fenced;
        } else if !fenced && starts(text, at, "## ") {
            assert!(starts(text, at, heading) && end - at == heading.len(), "a section is missing, out of order, or unknown");
            return (text.split_at(at).0, text.split_at(end).1);
        }
        at = end + 1;
    }
    panic!("a section is missing")
}

/// The one line that a section consists of, with an empty line on either side.
const fn only_line(text: &'static str) -> &'static str {
    let mut start = 0;
    while start < text.len() && text.as_bytes()[start] == b'\n' {
        start += 1;
    }
    let end = line_end(text, start);
    assert!(end > start, "a section is empty");
    let mut rest = end;
    while rest < text.len() {
        assert!(text.as_bytes()[rest] == b'\n', "a text of a rule is one paragraph in one line");
        rest += 1;
    }
    text.split_at(end).0.split_at(start).1
}

/// The first fenced text, if it is one that a reader of the handbook can make use of.
const fn shown(section: &'static str) -> &'static str {
    let mut at = 0;
    while !starts(section, at, FENCE) {
        assert!(at < section.len(), "a section has no text between lines of four backticks");
        at = line_end(section, at) + 1;
    }
    let kind = at + FENCE.len();
    let readable = starts(section, kind, "guide") || starts(section, kind, "shop") || starts(section, kind, "drawing");
    let start = line_end(section, at) + 1;
    let mut end = start;
    while !starts(section, end, FENCE) {
        assert!(end < section.len(), "a text between lines of four backticks does not end");
        end = line_end(section, end) + 1;
    }
    if readable { section.split_at(end).0.split_at(start).1 } else { "" }
}

/// Whether `text` goes on with `with` at `at`.
const fn starts(text: &str, at: usize, with: &str) -> bool {
    let mut nth = 0;
    while nth < with.len() {
        if at + nth >= text.len() || text.as_bytes()[at + nth] != with.as_bytes()[nth] {
            return false;
        }
        nth += 1;
    }
    true
}

/// Where the line ends that holds `at`.
const fn line_end(text: &str, mut at: usize) -> usize {
    while at < text.len() && text.as_bytes()[at] != b'\n' {
        at += 1;
    }
    at
}

/// Whether two texts are the same; `==` is not for use while compiling.
pub(crate) const fn same(one: &str, other: &str) -> bool {
    one.len() == other.len() && starts(one, 0, other)
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "# a-rule\n\nIt is wrong.\n\n## Why it matters\n\nBecause.\n\n## How to mend it\n\nSo.\n\n## Basis\n\ncommon practice\n\n## With the fault\n\nMarked: `x`\n\n````guide\n## Basis\n\nx\n````\n\n````report\nno\n````\n\n## Without it\n\n````guide\ny\n````\n";

    #[test]
    fn a_file_is_cut_apart() {
        let Explained { name, summary, why, mend, basis, bad, good } = Explained::read(FILE);
        assert_eq!([name, summary, why, mend, basis], ["a-rule", "It is wrong.", "Because.", "So.", "common practice"]);
        assert_eq!([bad, good], ["## Basis\n\nx\n", "y\n"]);
    }

    #[test]
    fn what_no_reader_can_use_is_not_shown() {
        let bytes: &str = Box::leak(FILE.replace("````guide\ny", "````picture a.png\ny").into_boxed_str());
        assert_eq!(Explained::read(bytes).good, "");
    }

    #[test]
    fn a_file_in_another_form_does_not_compile() {
        for (from, to) in [
            ("# a-rule", "a-rule"),
            ("It is wrong.\n", ""),
            ("Because.", "Because.\n\nAnd so."),
            ("## How to mend it", "## How"),
            ("## Basis\n\ncommon", "### Basis\n\ncommon"),
            ("\n````\n\n## Without", "\n\n## Without"),
            ("y\n````", "y\n"),
            ("````guide\ny\n````\n", ""),
        ] {
            let broken = FILE.replacen(from, to, 1);
            assert_ne!(broken, FILE, "{from}");
            let broken: &'static str = Box::leak(broken.into_boxed_str());
            assert!(std::panic::catch_unwind(|| Explained::read(broken)).is_err(), "{from} -> {to}");
        }
    }
}
