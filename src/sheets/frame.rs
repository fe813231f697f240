//! What stands round the content of every sheet: the title block by ISO 7200, its short form on further sheets, the foot with the
//! sentence that puts the vehicle maker first, and the mark of what is not released.

use super::desk::{BODY, Desk, LABEL, SMALL};
use super::paper::mm;
use super::piece::{Mark, Node, Role};
use super::qr::Code;
use super::words::Words;

/// The side of the code on the first sheet and on the others.
const CODE: (f32, f32) = (mm(26.0), mm(17.0));

/// What the frame says.
#[derive(Clone, Debug, Default)]
pub struct Frame {
    /// The kind of document, such as `Checklist`.
    pub kind: String,
    /// The title.
    pub title: String,
    /// For which vehicle and options.
    pub subtitle: Option<String>,
    /// Fields of the title block: what each is, and what stands in it. They come in two rows.
    pub fields: [Vec<(&'static str, String)>; 2],
    /// What tells the document on further sheets and at the foot.
    pub identity: String,
    /// Sentences at the foot.
    pub foot: String,
    /// Where the page is.
    pub address: Option<String>,
    /// The code of the address.
    pub code: Option<Code>,
    /// What the code leads to, in a few words.
    pub leads_to: &'static str,
    /// Whether it is not released.
    pub draft: bool,
    /// What further sheets say of the vehicle: what it is, and the entry, which is empty where it is written by hand.
    pub vehicle: Vec<(&'static str, String)>,
}

impl Frame {
    /// The title block of the first sheet, and how high it is.
    pub fn block(&self, desk: &mut Desk, of: usize) -> (Vec<Node>, f32) {
        let (mut nodes, top) = self.banner(desk, true);
        let code_wide = if self.code.is_some() { CODE.0 } else { 0.0 };
        let width = desk.width - code_wide;
        let inner = width - mm(4.0);
        let mut y = top + mm(1.4);
        let kind = desk.lay(&Words::plain(self.kind.as_str()), LABEL, inner);
        let title = desk.lay(&Words::strong(self.title.as_str()), 16.0, inner);
        let mut read = vec![Node::Content(vec![Mark::text(kind.clone(), mm(2.0), y)])];
        y += kind.height();
        let high = title.height();
        nodes.push(Node::Group(Role::Paragraph, std::mem::take(&mut read)));
        nodes.push(Node::Group(Role::Heading(1), vec![Node::Content(vec![Mark::text(title, mm(2.0), y)])]));
        y += high;
        if let Some(subtitle) = &self.subtitle {
            let laid = desk.lay(&Words::strong(subtitle.as_str()), BODY, inner);
            let high = laid.height();
            nodes.push(Node::Group(Role::Paragraph, vec![Node::Content(vec![Mark::text(laid, mm(2.0), y)])]));
            y += high;
        }
        y = (y + mm(1.4)).max(top + mm(12.0));
        let mut lines = Vec::new();
        for (number, row) in self.fields.iter().enumerate() {
            let mut row = row.clone();
            if number == 0 {
                row.push((desk.say.sheet, desk.say.at_of(1, of)));
            }
            let (cells, height) = cells(desk, &row, width, y, &mut lines);
            nodes.extend(cells);
            y += height;
        }
        if self.code.is_some() {
            y = y.max(top + CODE.0 + mm(4.0));
        }
        lines.push(Mark::Rect { rect: [0.0, top, desk.width, y - top], edge: 1.2, ground: None });
        if let (Some(code), Some(address)) = (&self.code, &self.address) {
            lines.push(Mark::Line { from: (width, top), to: (width, y), width: 0.6 });
            let square = [width, top, CODE.0, CODE.0];
            let words = desk.say.code_leads_to(address);
            nodes.push(Node::Group(Role::Figure(words, square), vec![Node::Content(vec![code.mark(width, top, CODE.0)])]));
            let whole = [width, top, CODE.0, CODE.0 + mm(3.4)];
            let told = desk.lay(&Words::plain(self.leads_to), 7.0, CODE.0);
            let at = (width + (CODE.0 - told.width()) / 2.0, top + CODE.0 - mm(0.6));
            // Who reads the sheet on a screen follows the code by pointing.
            let link = Node::Group(Role::Link(address.clone(), whole), vec![Node::Content(vec![Mark::text(told, at.0, at.1)])]);
            nodes.push(Node::Group(Role::Paragraph, vec![link]));
        }
        nodes.push(Node::Plain(lines));
        (nodes, y + mm(2.0))
    }

    /// The head of a further sheet, and how high it is. It is not read again.
    pub fn strip(&self, desk: &mut Desk, sheet: usize, of: usize) -> (Vec<Node>, f32) {
        let (mut nodes, top) = self.banner(desk, false);
        let code_wide = if self.code.is_some() { CODE.1 + mm(2.0) } else { 0.0 };
        let width = desk.width - code_wide;
        let title = desk.one_line(&self.title, true, BODY, width);
        let told = format!("{} · {} · {}", desk.say.sheet_of(sheet, of), self.kind, self.identity);
        let told = desk.one_line(&told, false, SMALL, width);
        let mut y = top + mm(1.0);
        let mut marks = Vec::new();
        for laid in [Some(title), Some(told), self.subtitle.as_ref().map(|words| desk.one_line(words, false, SMALL, width))] {
            let Some(laid) = laid else { continue };
            let high = laid.height();
            marks.push(Mark::text(laid, 0.0, y));
            y += high + mm(0.3);
        }
        if !self.vehicle.is_empty() {
            nodes.extend(desk.ruled(&self.vehicle, width).into_iter().map(|node| node.moved((0.0, y + mm(6.2)))));
            y += mm(7.0);
        }
        if let Some(code) = &self.code {
            marks.push(code.mark(width + mm(2.0), top, CODE.1));
            y = y.max(top + CODE.1);
        }
        marks.push(Mark::rule(0.0, y + mm(0.6), desk.width, 1.2));
        nodes.push(Node::Plain(marks));
        (nodes.into_iter().flat_map(Node::silent).collect(), y + mm(2.6))
    }

    /// The foot of a sheet, and how high it is.
    pub fn foot(&self, desk: &mut Desk, sheet: usize, of: usize) -> (Vec<Node>, f32) {
        let page = desk.lay(&Words::plain(desk.say.sheet_of(sheet, of)), LABEL, mm(30.0));
        let mut words = Words::strong(self.identity.as_str());
        words.push(&format!(" · {}", self.foot));
        let laid = desk.lay(&words, 7.0, desk.width - page.width() - mm(5.0));
        let height = laid.height().max(page.height()) + mm(1.0);
        let at = desk.width - page.width();
        let marks = vec![Mark::rule(0.0, 0.0, desk.width, 0.6), Mark::text(laid, 0.0, mm(1.0)), Mark::text(page, at, mm(1.0))];
        (vec![Node::Plain(marks)], height)
    }

    /// The band over what is not released, and how high it is.
    fn banner(&self, desk: &mut Desk, read: bool) -> (Vec<Node>, f32) {
        if !self.draft {
            return (Vec::new(), 0.0);
        }
        let laid = desk.lay(&Words::strong(desk.say.not_released_sheet), BODY, desk.width - mm(4.0));
        let height = laid.height() + mm(2.0);
        let band = Mark::Rect { rect: [0.0, 0.0, desk.width, height], edge: 0.0, ground: Some(0) };
        let text = Mark::Text { laid, at: (mm(2.0), mm(1.0)), white: true };
        let words = Node::Content(vec![text]);
        let words = if read { vec![Node::Group(Role::Paragraph, vec![words])] } else { words.silent() };
        (std::iter::once(Node::Plain(vec![band])).chain(words).collect(), height + mm(1.5))
    }

    /// The words across a sheet that is not released.
    pub fn across(&self, desk: &mut Desk, size: (f32, f32)) -> Vec<Node> {
        if !self.draft {
            return Vec::new();
        }
        let laid = desk.lay(&Words::strong(desk.say.not_released), 66.0, 2.0 * size.0);
        let turn = (size.1 / size.0).atan().to_degrees();
        vec![Node::Plain(vec![Mark::Stamp { laid, middle: (size.0 / 2.0, size.1 / 2.0), turn: -turn }])]
    }
}

/// A row of fields over the whole width; cells are as wide as their words need, and the rest is shared.
fn cells(desk: &mut Desk, row: &[(&'static str, String)], width: f32, y: f32, lines: &mut Vec<Mark>) -> (Vec<Node>, f32) {
    let pad = mm(2.0);
    let needs: Vec<f32> = row
        .iter()
        .map(|(label, value)| {
            let label = desk.lay(&Words::plain(*label), LABEL, width).width();
            label.max(desk.lay(&Words::strong(value.as_str()), BODY, width).width()) + 2.0 * pad
        })
        .collect();
    let sum: f32 = needs.iter().sum();
    let wide = |need: f32| if sum <= width { need + (width - sum) / row.len() as f32 } else { need * width / sum };
    let mut nodes = Vec::new();
    let mut height: f32 = 0.0;
    let mut x = 0.0;
    for ((label, value), need) in row.iter().zip(&needs) {
        let cell = wide(*need);
        let label = desk.lay(&Words::plain(*label), LABEL, cell - 2.0 * pad);
        let value = desk.lay(&Words::strong(value.as_str()), BODY, (cell - 2.0 * pad).max(mm(8.0)));
        let below = y + mm(0.8) + label.height();
        height = height.max(label.height() + value.height() + mm(1.8));
        let marks = [Mark::text(label, x + pad, y + mm(0.8)), Mark::text(value, x + pad, below)];
        nodes.push(Node::Group(Role::Paragraph, marks.into_iter().map(|mark| Node::Content(vec![mark])).collect()));
        if x > 0.0 {
            lines.push(Mark::Line { from: (x, y), to: (x, y), width: 0.6 });
        }
        x += cell;
    }
    for line in lines.iter_mut() {
        if let Mark::Line { from, to, .. } = line
            && from.1 == y
            && to.1 == y
            && from.0 == to.0
        {
            to.1 = y + height;
        }
    }
    lines.push(Mark::rule(0.0, y, width, 0.6));
    (nodes, height)
}
