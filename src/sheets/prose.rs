//! Running words on a sheet, with the pictures of the guide beside or under them. What the words are was decided in `words`.

use super::checklist::Maker;
use super::desk::{BODY, Picture, SMALL, Shown};
use super::paper::mm;
use super::piece::Piece;
use super::words::{Block, Words, blocks};
use crate::document::words::{self, Picture as Told};
use crate::drawing::{Point, callouts::callouts};
use crate::pictures::Published;
use crate::source::Spanned;

impl Maker<'_> {
    /// Running words with their pictures.
    pub fn words(&mut self, indent: f32, document: &[Spanned<words::Block>], pieces: &mut Vec<Piece>) {
        self.words_and_faces(indent, document, Vec::new(), pieces);
    }

    /// The same with the faces of connectors beside or after the pictures.
    pub fn words_and_faces(&mut self, indent: f32, document: &[Spanned<words::Block>], faces: Vec<Picture>, pieces: &mut Vec<Piece>) {
        let mut read = blocks(document);
        // One picture stands beside its words where they leave it room.
        let lone = read.iter().filter(|block| matches!(block, Block::Picture { .. })).count() == 1;
        let plain = read.iter().all(|block| matches!(block, Block::Picture { .. } | Block::Paragraph(_) | Block::Item { .. }));
        let at = read.iter().position(|block| matches!(block, Block::Picture { .. })).filter(|_| lone && plain && read.len() > 1);
        let picture = at.and_then(|at| match read.remove(at) {
            Block::Picture { picture, caption } => self.picture(&picture, caption),
            _ => None,
        });
        match picture {
            Some(picture) if faces.is_empty() => pieces.extend(self.beside(indent, &read, picture)),
            picture => {
                self.blocks(indent, read, pieces);
                let shown: Vec<Picture> = picture.into_iter().chain(faces).collect();
                pieces.extend(self.desk.pictures(indent, &shown));
            }
        }
    }

    /// Words at the left, and their picture at the right.
    fn beside(&mut self, indent: f32, read: &[Block], picture: Picture) -> Vec<Piece> {
        let gap = mm(5.0);
        let full = self.desk.width;
        let wide = picture.widest;
        let mut words = Vec::new();
        self.desk.width = full - wide - gap;
        self.blocks(indent, read.to_vec(), &mut words);
        self.desk.width = full;
        let height: f32 = words.iter().map(|piece| piece.height).sum();
        if height > mm(110.0) {
            let mut pieces = Vec::new();
            self.blocks(indent, read.to_vec(), &mut pieces);
            pieces.extend(self.desk.pictures(indent, &[picture]));
            return pieces;
        }
        let mut nodes = Vec::new();
        let mut y = 0.0;
        for piece in words {
            nodes.extend(piece.nodes.into_iter().map(|node| node.moved((0.0, y))));
            y += piece.height;
        }
        for piece in self.desk.pictures(full - wide, &[picture]) {
            nodes.extend(piece.nodes);
            y = y.max(piece.height);
        }
        vec![self.desk.piece(y, nodes)]
    }

    fn blocks(&mut self, indent: f32, read: Vec<Block>, pieces: &mut Vec<Piece>) {
        let mut shown: Vec<Picture> = Vec::new();
        for block in read {
            if !matches!(block, Block::Picture { .. }) {
                pieces.extend(self.desk.pictures(indent, &std::mem::take(&mut shown)));
            }
            match block {
                Block::Paragraph(words) => pieces.extend(self.desk.paragraph(indent, &words, BODY, mm(1.6))),
                Block::Heading(words) => {
                    let strong = Words::strong(words.text());
                    let mut made = self.desk.paragraph(indent, &strong, BODY, mm(1.0));
                    made.iter_mut().for_each(|piece| piece.keep = true);
                    pieces.extend(made);
                }
                Block::Item { depth, label, words } => {
                    pieces.extend(self.desk.item(indent + mm(5.0) * depth as f32, &label, &words, BODY));
                }
                Block::Code(text) => pieces.extend(self.desk.paragraph(indent, &Words::plain(text), SMALL, mm(1.6))),
                Block::Picture { picture, caption } => shown.extend(self.picture(&picture, caption)),
                Block::Table { head, rows } => {
                    for row in super::table::plain(&mut self.desk, indent, &head, &rows) {
                        pieces.push(row);
                    }
                }
            }
        }
        pieces.extend(self.desk.pictures(indent, &shown));
    }

    /// Pictures that stood in a line of words, below it.
    pub fn shown_in_line(&mut self, indent: f32, pictures: &[&Told], pieces: &mut Vec<Piece>) {
        let shown: Vec<Picture> = pictures.iter().filter_map(|picture| self.picture(picture, String::new())).collect();
        pieces.extend(self.desk.pictures(indent, &shown));
    }

    /// A picture of the guide with its balloons; one that cannot be had is told to who asked for the sheet.
    fn picture(&mut self, picture: &Told, caption: String) -> Option<Picture> {
        let shown = self.shown(picture)?;
        let places: Vec<Point> = picture.callouts.iter().map(|callout| Point::new(callout.at.0, callout.at.1)).collect();
        let over = picture.fact.filter(|_| !places.is_empty()).and_then(|fact| {
            let published = Published::plan(&picture.address, fact);
            let (_, width, height) = published.largest();
            self.drawing(&callouts(width, height, &places))
        });
        // The letters in a drawing have to be read; a photo shows as much on less paper.
        let (widest, highest) = if matches!(shown, Shown::Photo(..)) { (mm(68.0), mm(48.0)) } else { (mm(81.0), mm(54.0)) };
        Some(Picture { shown, words: picture.words.clone(), caption, over, widest, highest })
    }
}
