//! How pieces fill sheets: a group that fits one sheet is not broken, a heading is never alone, and what is open at the end of a sheet
//! has its place there. What is drawn is left to the pieces.

use super::piece::Group;

/// A piece at its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// The group, as an index.
    pub group: usize,
    /// The piece in it; none for what stands again at the top of a further sheet.
    pub piece: Option<usize>,
    /// Whether it is what still holds at the top of the sheet.
    pub held: bool,
    /// The row whose table's head stands again here.
    pub head_of: Option<usize>,
    /// Its upper edge.
    pub y: f32,
}

/// A sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// What stands on it, from the top.
    pub placed: Vec<Placed>,
    /// How many operations are done at its end.
    pub done: usize,
}

/// The room on a sheet.
pub struct Room<'r> {
    /// The upper edge of the first sheet's content.
    pub first: f32,
    /// The upper edge of the content of all others.
    pub top: f32,
    /// The lower edge.
    pub bottom: f32,
    /// How high the tail is when so many operations are done.
    pub tail: &'r mut dyn FnMut(usize) -> f32,
}

/// Lays the groups on sheets.
pub fn flow(groups: &[Group], room: &mut Room<'_>) -> Vec<Sheet> {
    let mut flow = Flow { groups, sheets: vec![Sheet::default()], y: room.first, done: 0, room };
    let mut at = 0;
    while at < groups.len() {
        // Groups that lead stay with the one after them.
        let end = (at..groups.len()).find(|next| !groups[*next].leads).unwrap_or(groups.len() - 1);
        flow.place(at, end);
        at = end + 1;
    }
    let Flow { mut sheets, done, .. } = flow;
    if let Some(last) = sheets.last_mut() {
        last.done = done;
    }
    sheets
}

struct Flow<'f, 'r> {
    groups: &'f [Group],
    sheets: Vec<Sheet>,
    y: f32,
    done: usize,
    room: &'f mut Room<'r>,
}

impl Flow<'_, '_> {
    fn at_top(&self) -> bool {
        self.sheets.last().is_none_or(|sheet| sheet.placed.is_empty())
    }

    /// How high pieces from one on to another are, both as group and piece, and how many operations are done after them.
    fn height(&self, pieces: &[(usize, usize)]) -> (f32, usize) {
        let mut height = 0.0;
        let mut done = self.done;
        for (number, &(group, piece)) in pieces.iter().enumerate() {
            let found = &self.groups[group].pieces[piece];
            if piece == 0 && number > 0 {
                height += self.groups[group].space;
            }
            height += found.height;
            done = done.max(found.done);
        }
        (height, done)
    }

    fn fits(&mut self, pieces: &[(usize, usize)]) -> bool {
        let (height, done) = self.height(pieces);
        let space = pieces.first().filter(|(_, piece)| *piece == 0 && !self.at_top()).map_or(0.0, |(group, _)| self.groups[*group].space);
        // What is open in the middle counts too: the tail may be higher there, but the sheet does not end there.
        let again = pieces.first().filter(|_| self.at_top()).map_or(0.0, |(group, piece)| self.again(*group, *piece));
        self.y + space + again + height + (self.room.tail)(done) <= self.room.bottom + 0.01
    }

    /// How high what stands again over a piece is where a sheet begins with it.
    fn again(&self, group: usize, piece: usize) -> f32 {
        let owner = &self.groups[group];
        let again = owner.again.as_ref().filter(|_| piece > 0).map_or(0.0, |again| again.height);
        let held = owner.held.as_ref().map_or(0.0, |held| held.height);
        held + again + owner.pieces[piece].head.as_ref().map_or(0.0, |head| head.height)
    }

    /// Whether the pieces fit a sheet that holds nothing else.
    fn fits_alone(&mut self, pieces: &[(usize, usize)]) -> bool {
        let (height, done) = self.height(pieces);
        let again = pieces.first().map_or(0.0, |(group, piece)| self.again(*group, *piece));
        self.room.top + again + height + (self.room.tail)(done) <= self.room.bottom + 0.01
    }

    /// How many of the pieces an empty sheet has the height for at most; one at least. More of a long chain need not be tried.
    fn reach(&self, pieces: &[(usize, usize)]) -> usize {
        let mut left = self.room.bottom + 0.01 - self.room.top.min(self.room.first);
        let fitting = pieces.iter().take_while(|(group, piece)| {
            left -= self.groups[*group].pieces[*piece].height;
            left >= 0.0
        });
        // One more, so that it is seen that the chain does not fit.
        (fitting.count() + 1).min(pieces.len())
    }

    fn turn(&mut self) {
        if let Some(sheet) = self.sheets.last_mut() {
            sheet.done = self.done;
        }
        self.sheets.push(Sheet::default());
        self.y = self.room.top;
    }

    fn put(&mut self, pieces: &[(usize, usize)]) {
        for &(group, piece) in pieces {
            let owner = &self.groups[group];
            if piece == 0 && !self.at_top() {
                self.y += owner.space;
            }
            let at_top = self.at_top();
            let Some(sheet) = self.sheets.last_mut() else { return };
            if at_top && let Some(held) = &owner.held {
                sheet.placed.push(Placed { group, piece: None, head_of: None, held: true, y: self.y });
                self.y += held.height;
            }
            if piece > 0
                && at_top
                && let Some(again) = &owner.again
            {
                sheet.placed.push(Placed { group, piece: None, head_of: None, held: false, y: self.y });
                self.y += again.height;
            }
            if at_top && let Some(head) = &owner.pieces[piece].head {
                sheet.placed.push(Placed { group, piece: None, head_of: Some(piece), held: false, y: self.y });
                self.y += head.height;
            }
            sheet.placed.push(Placed { group, piece: Some(piece), head_of: None, held: false, y: self.y });
            self.y += owner.pieces[piece].height;
            self.done = self.done.max(owner.pieces[piece].done);
        }
    }

    /// Places the groups from `start` to `end`, of which all but the last lead.
    fn place(&mut self, start: usize, end: usize) {
        let all: Vec<(usize, usize)> =
            (start..=end).flat_map(|group| (0..self.groups[group].pieces.len()).map(move |piece| (group, piece))).collect();
        if self.groups[end].together {
            if self.fits(&all) {
                return self.put(&all);
            }
            if self.fits_alone(&all) {
                self.turn();
                return self.put(&all);
            }
        }
        // Behind which piece the chain ends that each is part of, from the last to the first.
        let mut ends = vec![all.len(); all.len()];
        for (at, &(group, piece)) in all.iter().enumerate().rev() {
            let kept = self.groups[group].pieces[piece].keep || group != end;
            ends[at] = if kept { ends.get(at + 1).copied().unwrap_or(all.len()) } else { at + 1 };
        }
        let mut at = 0;
        while at < all.len() {
            let mut next = at + self.reach(&all[at..ends[at]]);
            if !self.fits(&all[at..next]) {
                // A chain that no sheet holds is parted where it must be.
                while next > at + 1 && !self.fits_alone(&all[at..next]) {
                    next -= 1;
                }
                if !self.at_top() && !self.fits(&all[at..next]) {
                    self.turn();
                }
            }
            self.put(&all[at..next]);
            at = next;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::piece::{Piece, Whole};
    use super::*;

    fn group(heights: &[(f32, bool)], together: bool, leads: bool) -> Group {
        let pieces = heights.iter().map(|&(height, keep)| Piece { height, keep, ..Piece::default() }).collect();
        Group { whole: Whole::Nothing, pieces, together, leads, again: None, held: None, space: 1.0 }
    }

    /// The first group and piece of each sheet.
    fn breaks(groups: &[Group]) -> Vec<(usize, usize)> {
        let mut room = Room { first: 20.0, top: 10.0, bottom: 100.0, tail: &mut |_| 10.0 };
        let sheets = flow(groups, &mut room);
        for sheet in &sheets {
            let last = sheet.placed.last().unwrap();
            let height = last.piece.map_or(0.0, |piece| groups[last.group].pieces[piece].height);
            assert!(last.y + height <= 90.01, "{last:?} runs over the tail");
        }
        let placed: Vec<(usize, usize)> =
            sheets.iter().flat_map(|sheet| &sheet.placed).filter_map(|at| Some((at.group, at.piece?))).collect();
        let all: Vec<(usize, usize)> =
            groups.iter().enumerate().flat_map(|(at, group)| (0..group.pieces.len()).map(move |p| (at, p))).collect();
        assert_eq!(placed, all, "every piece stands once, in order");
        sheets.iter().map(|sheet| &sheet.placed[0]).map(|at| (at.group, at.piece.unwrap_or(99))).collect()
    }

    #[test]
    fn a_group_that_fits_a_sheet_is_not_broken() {
        let groups = [group(&[(30.0, false)], true, false), group(&[(30.0, false), (30.0, false)], true, false)];
        assert_eq!(breaks(&groups), [(0, 0), (1, 0)]);
    }

    #[test]
    fn a_heading_is_never_alone() {
        let groups = [group(&[(50.0, false)], true, false), group(&[(10.0, false)], true, true), group(&[(40.0, false)], true, false)];
        assert_eq!(breaks(&groups), [(0, 0), (1, 0)]);
        // Not even before a group that no sheet holds.
        let long = group(&[(15.0, true), (30.0, false), (30.0, false), (30.0, false)], true, false);
        let groups = [group(&[(40.0, false)], true, false), group(&[(10.0, false)], true, true), long];
        assert_eq!(breaks(&groups), [(0, 0), (1, 0), (2, 2)]);
    }

    #[test]
    fn the_head_of_a_table_in_a_step_stands_over_its_first_row_on_each_sheet() {
        let mut long = group(&[(20.0, false), (10.0, true), (40.0, false), (40.0, false), (40.0, false)], true, false);
        let head = std::rc::Rc::new(Piece { height: 10.0, ..Piece::default() });
        long.pieces[2..].iter_mut().for_each(|row| row.head = Some(std::rc::Rc::clone(&head)));
        let mut room = Room { first: 20.0, top: 10.0, bottom: 100.0, tail: &mut |_| 10.0 };
        let heads: Vec<Vec<usize>> =
            flow(&[long], &mut room).iter().map(|sheet| sheet.placed.iter().filter_map(|placed| placed.head_of).collect()).collect();
        assert_eq!(heads, [vec![], vec![3], vec![4]]);
    }

    #[test]
    fn a_chain_that_no_sheet_holds_is_parted() {
        let groups = [group(&[(60.0, true), (60.0, true), (60.0, false)], true, false)];
        assert_eq!(breaks(&groups), [(0, 0), (0, 1), (0, 2)]);
    }

    #[test]
    fn a_head_stands_again_on_each_further_sheet() {
        let mut table = group(&[(10.0, true), (40.0, false), (40.0, false), (40.0, false)], false, false);
        table.again = Some(Piece { height: 10.0, ..Piece::default() });
        assert_eq!(breaks(&[table]), [(0, 0), (0, 99), (0, 99)]);
    }
}
