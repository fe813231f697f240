//! Reads the list of a kit as it was pasted or saved: lines such as `4 x Hex bolt M8x25 8.8`, or rows with commas, semicolons or tabs and
//! perhaps a head. What a line does not say stays unsaid; a line that cannot be read is told.

use crate::fastener::Thread;

/// A part or some hardware of the list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// Its name.
    pub name: String,
    /// How many; none where the list does not say.
    pub count: Option<u32>,
    /// The part number.
    pub number: Option<String>,
    /// What sort of fastener it is; none for a part.
    pub kind: Option<&'static str>,
    /// The thread.
    pub thread: Option<String>,
    /// Length under the head.
    pub length: Option<String>,
    /// Strength class.
    pub class: Option<String>,
}

/// A list as read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Listed {
    /// Its rows in order.
    pub rows: Vec<Row>,
    /// Lines that were not taken over: the number from 1, and why.
    pub left: Vec<(usize, String)>,
}

/// The columns of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    Count,
    Name,
    Number,
    Thread,
    Length,
    Class,
    Other,
}

/// Reads a list.
pub fn read(text: &str) -> Listed {
    let text = text.trim_start_matches('\u{feff}');
    let lines: Vec<(usize, &str)> =
        text.lines().enumerate().map(|(at, line)| (at + 1, line.trim())).filter(|(_, line)| !line.is_empty()).collect();
    let mut listed = Listed::default();
    let separator = separator(&lines);
    let Some(separator) = separator else {
        for (at, line) in lines {
            match of_line(line) {
                Some(row) => listed.rows.push(row),
                None => listed.left.push((at, "it has no name".to_owned())),
            }
        }
        return listed;
    };
    let cells: Vec<(usize, Vec<String>)> = lines.iter().map(|(at, line)| (*at, split(line, separator))).collect();
    let head = cells.first().and_then(|(_, cells)| head(cells));
    let columns = head.clone().unwrap_or_else(|| guessed(&cells));
    for (at, cells) in cells.iter().skip(usize::from(head.is_some())) {
        match of_cells(cells, &columns) {
            Ok(row) => listed.rows.push(row),
            Err(why) => listed.left.push((*at, why)),
        }
    }
    listed
}

/// What parts the columns, where each line has as many of it, and at least one.
fn separator(lines: &[(usize, &str)]) -> Option<char> {
    ['\t', ';', ','].into_iter().find(|separator| {
        let counts: Vec<usize> = lines.iter().map(|(_, line)| split(line, *separator).len()).collect();
        counts.first().is_some_and(|first| *first > 1 && counts.iter().all(|count| count == first)) && (lines.len() > 1 || counts[0] > 2)
    })
}

/// The cells of a row; a separator between quotation marks is part of a cell.
fn split(line: &str, separator: char) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => {
                chars.next();
                cells.last_mut().into_iter().for_each(|cell| cell.push('"'));
            }
            // A mark inside a cell is an inch or a name: only one at its start opens a quotation.
            '"' if quoted || cells.last().is_some_and(|cell| cell.trim().is_empty()) => quoted = !quoted,
            c if c == separator && !quoted => cells.push(String::new()),
            c => cells.last_mut().into_iter().for_each(|cell| cell.push(c)),
        }
    }
    cells.into_iter().map(|cell| cell.trim().to_owned()).collect()
}

/// The columns that a head names; none where the row is no head.
fn head(cells: &[String]) -> Option<Vec<Column>> {
    let column = |cell: &String| match cell.to_lowercase().trim_end_matches('.') {
        "count" | "qty" | "quantity" | "pcs" | "pieces" | "no off" | "amount" | "menge" | "anzahl" | "stück" => Column::Count,
        "name" | "description" | "part" | "item" | "designation" | "bezeichnung" | "benennung" => Column::Name,
        "number" | "part number" | "part no" | "part #" | "article" | "article number" | "sku" | "artikelnummer" | "teilenummer" => {
            Column::Number
        }
        "thread" | "size" | "gewinde" => Column::Thread,
        "length" | "länge" => Column::Length,
        "class" | "grade" | "strength" => Column::Class,
        _ => Column::Other,
    };
    let columns: Vec<Column> = cells.iter().map(column).collect();
    columns.contains(&Column::Name).then_some(columns)
}

/// The columns of a table without a head: the one of whole numbers is the count, the wordiest is the name, and one of digits and letters
/// without spaces the number.
fn guessed(rows: &[(usize, Vec<String>)]) -> Vec<Column> {
    let width = rows.first().map_or(0, |(_, cells)| cells.len());
    let cells = |at: usize| rows.iter().filter_map(move |(_, cells)| cells.get(at));
    let is_count = |at: usize| cells(at).all(|cell| count_of(cell).is_some());
    let count = (0..width).find(|at| is_count(*at));
    let spaces = |at: usize| cells(at).map(|cell| cell.chars().filter(|c| c.is_alphabetic() || *c == ' ').count()).sum::<usize>();
    let name = (0..width).filter(|at| Some(*at) != count).max_by_key(|at| (spaces(*at), std::cmp::Reverse(*at)));
    let coded = |at: usize| cells(at).all(|cell| !cell.contains(' ') && cell.chars().any(|c| c.is_ascii_digit()));
    let number = (0..width).find(|at| Some(*at) != count && Some(*at) != name && coded(*at));
    let of = |at| match Some(at) {
        at if at == count => Column::Count,
        at if at == name => Column::Name,
        at if at == number => Column::Number,
        _ => Column::Other,
    };
    (0..width).map(of).collect()
}

/// A count as lists write it: `4`, `4x`, `4 pcs`.
fn count_of(cell: &str) -> Option<u32> {
    let cell = cell.trim();
    let digits = cell.len() - cell.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let unit = cell[digits..].trim().trim_end_matches('.').to_lowercase();
    if !matches!(unit.as_str(), "" | "x" | "×" | "pcs" | "pc" | "off" | "stk" | "st" | "ea") {
        return None;
    }
    cell[..digits].parse().ok().filter(|count| (1..=10_000).contains(count))
}

fn of_cells(cells: &[String], columns: &[Column]) -> Result<Row, String> {
    let of = |column: Column| {
        let found = columns.iter().zip(cells).find(|(of, _)| **of == column).map(|(_, cell)| cell.clone());
        found.filter(|cell| !cell.is_empty())
    };
    let name = of(Column::Name).ok_or_else(|| "it has no name".to_owned())?;
    let mut row = named(&name);
    row.number = of(Column::Number).or(row.number);
    row.thread = of(Column::Thread).or(row.thread);
    row.length = of(Column::Length).or(row.length);
    row.class = of(Column::Class).or(row.class);
    if row.thread.is_some() && row.kind.is_none() {
        row.kind = Some("bolt");
    }
    // A count that cannot be read is no count: it is asked for.
    row.count = of(Column::Count).and_then(|cell| count_of(&cell));
    Ok(row)
}

/// A pasted line: a count before or behind the name, or none.
fn of_line(line: &str) -> Option<Row> {
    let line = line.trim_start_matches(['-', '*', '•', '·', '–']).trim();
    let digits = line.len() - line.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let rest = line[digits..].trim_start();
    let marked = rest.strip_prefix(['x', '×', 'X', '*']).filter(|rest| rest.starts_with(' '));
    let before = line[..digits].parse::<u32>().ok().filter(|count| (1..=10_000).contains(count));
    let (count, name) = match (before, marked) {
        (Some(count), Some(rest)) => (Some(count), rest.trim()),
        // `4 bolts`, but not `13-pin socket` nor `12 V lamp`.
        (Some(count), None) if line[digits..].starts_with(' ') && rest.starts_with(|c: char| c.is_alphabetic()) && !unit_first(rest) => {
            (Some(count), rest)
        }
        _ => behind(line),
    };
    let row = named(name);
    (!row.name.is_empty()).then_some(Row { count, ..row })
}

/// Whether what follows a number is its unit.
fn unit_first(rest: &str) -> bool {
    let first = rest.split_whitespace().next().unwrap_or_default();
    matches!(first, "mm" | "cm" | "m" | "in" | "V" | "A" | "W" | "kg" | "g" | "L" | "l" | "ml" | "pin" | "way" | "pole" | "t" | "Ah")
}

/// A count at the end: `Washer M8 (8)`, `Washer M8 x 8 pcs`.
fn behind(line: &str) -> (Option<u32>, &str) {
    if let Some((name, count)) = line.strip_suffix(')').and_then(|line| line.rsplit_once('('))
        && let Some(count) = count_of(count.trim_start_matches(['x', '×']))
    {
        return (Some(count), name.trim());
    }
    for unit in [" pcs", " pc", " off", " ea"] {
        if let Some((name, count)) = line.strip_suffix(unit).and_then(|line| line.rsplit_once(' '))
            && let Ok(count) = count.parse::<u32>()
        {
            return (Some(count).filter(|count| (1..=10_000).contains(count)), name.trim_end_matches([' ', 'x', '×', ',']).trim());
        }
    }
    (None, line)
}

/// Words that name a sort of fastener.
const KINDS: &[(&str, &str)] = &[
    ("washer", "washer"),
    ("nut", "nut"),
    ("screw", "screw"),
    ("bolt", "bolt"),
    ("stud", "stud"),
    ("rivet", "rivet"),
    ("clip", "clip"),
    ("clamp", "clamp"),
    ("tie", "tie"),
];

/// What the words of a name say of a fastener.
fn named(name: &str) -> Row {
    let name = name.trim().trim_end_matches([',', ';', '.']).trim();
    let mut row = Row { name: name.to_owned(), ..Row::default() };
    let words: Vec<String> = name.split(|c: char| !c.is_alphanumeric()).map(str::to_lowercase).filter(|word| !word.is_empty()).collect();
    // Of `bracket with bolt` the first noun is the thing; of `bolt set for bracket` too. A fastener's word has to be the last or be sized.
    let kind = KINDS.iter().find(|(word, _)| words.iter().any(|own| own == word || own.strip_suffix('s') == Some(word)));
    for token in name.split([' ', ',']).filter(|token| !token.is_empty()) {
        let token = token.trim_matches(['(', ')']);
        if matches!(token, "8.8" | "10.9" | "12.9" | "5.8" | "5.6" | "A2-70" | "A4-70" | "A4-80") {
            row.class = Some(token.to_owned());
        } else if row.thread.is_none() {
            (row.thread, row.length) = sized(token);
        }
    }
    // A word alone is a part's as well (`clip holder`): it is a fastener where it ends the name or has a size.
    let ends = words.iter().rev().find(|word| word.chars().all(char::is_alphabetic) && word.len() > 1);
    row.kind = kind
        .filter(|(word, _)| row.thread.is_some() || ends.is_some_and(|end| end == word || end.strip_suffix('s') == Some(word)))
        .map(|(_, kind)| *kind);
    if row.kind.is_none() {
        (row.thread, row.length, row.class) = (None, None, None);
    }
    row
}

/// `M8x25` as thread and length; a second number up to 3.5 is a pitch.
fn sized(token: &str) -> (Option<String>, Option<String>) {
    let parts: Vec<&str> = token.split(['x', 'X', '×', '*']).collect();
    let number = |text: &str| text.replace(',', ".").parse::<f64>().ok();
    let is_metric = parts[0].strip_prefix(['M', 'm']).is_some_and(|size| number(size).is_some());
    if !is_metric {
        return (None, None);
    }
    let size = parts[0].to_uppercase();
    let (pitch, length) = match parts.as_slice() {
        [_] => (None, None),
        [_, one] if number(one).is_some_and(|one| one <= 3.5) => (Some(*one), None),
        [_, one] => (None, Some(*one)),
        [_, pitch, length] => (Some(*pitch), Some(*length)),
        _ => return (None, None),
    };
    let thread = pitch.map_or(size.clone(), |pitch| format!("{size}x{}", pitch.replace(',', ".")));
    if Thread::read(&thread).is_err() {
        return (None, None);
    }
    (Some(thread), length.filter(|length| number(length).is_some()).map(|length| format!("{} mm", length.replace(',', "."))))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(row: &Row) -> String {
        let of = |text: &Option<String>| text.clone().unwrap_or_default();
        let count = row.count.map_or("?".to_owned(), |count| count.to_string());
        format!(
            "{count}|{}|{}|{}|{}|{}|{}",
            row.name,
            row.kind.unwrap_or("part"),
            of(&row.thread),
            of(&row.length),
            of(&row.class),
            of(&row.number)
        )
    }

    #[test]
    fn pasted_lines_are_read_and_nothing_is_made_up() {
        for (line, expected) in [
            ("4 x Hex bolt M8x25 8.8", "4|Hex bolt M8x25 8.8|bolt|M8|25 mm|8.8|"),
            ("4x Flange bolt M10x1.25x30, 10.9", "4|Flange bolt M10x1.25x30, 10.9|bolt|M10x1.25|30 mm|10.9|"),
            ("2 Bracket, left", "2|Bracket, left|part||||"),
            ("- 8 × Washer M8", "8|Washer M8|washer|M8|||"),
            ("Washer M6 (8)", "8|Washer M6|washer|M6|||"),
            ("Lock nut M8, 6 pcs", "6|Lock nut M8|nut|M8|||"),
            ("13-pin socket", "?|13-pin socket|part||||"),
            ("12 V lamp", "?|12 V lamp|part||||"),
            ("Cable tie", "?|Cable tie|tie||||"),
            ("Clip holder", "?|Clip holder|part||||"),
            ("Mounting plate M2 revision", "?|Mounting plate M2 revision|part||||"),
            ("0 x Bracket", "?|0 x Bracket|part||||"),
        ] {
            let listed = read(line);
            assert_eq!(listed.rows.iter().map(told).collect::<Vec<_>>(), [expected], "{line}");
        }
    }

    #[test]
    fn tables_are_read_with_and_without_a_head() {
        let expected = ["1|Side step|part||||S-1", "4|Step bolt M8x20|bolt|M8|20 mm||S-2"];
        for table in [
            "Qty,Description,Part number\n1,Side step,S-1\n4,Step bolt M8x20,S-2\n",
            "S-1;Side step;1\nS-2;Step bolt M8x20;4\n",
            "1\tSide step\tS-1\r\n4\tStep bolt M8x20\tS-2\r\n",
            "\u{feff}Part no.;Name;Count\nS-1;Side step;1 pcs\nS-2;\"Step bolt M8x20\";4x\n",
        ] {
            assert_eq!(read(table).rows.iter().map(told).collect::<Vec<_>>(), expected, "{table}");
        }
        let odd = read("Qty,Name\nseveral,Bracket\n2,\n");
        assert_eq!(odd.rows.iter().map(told).collect::<Vec<_>>(), ["?|Bracket|part||||"]);
        assert_eq!(odd.left, [(3, "it has no name".to_owned())]);
    }
}
