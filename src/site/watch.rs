//! The video of a guide: moments of its steps, and its chapters as files for players and for the description of a video.

use crate::document::{self, Document};
use crate::guide::moment::clock;
use crate::theme::data as page;

/// The chapters of a video, beside the page.
pub(super) const CHAPTERS: &str = "chapters.vtt";
/// The same as lines for the description of a video.
pub(super) const LIST: &str = "chapters.txt";

/// The video as the page shows it.
pub(super) fn video(video: &document::Video, document: &Document) -> page::Video {
    let (href, is_file) = match video {
        document::Video::Address(address) => (address.clone(), false),
        document::Video::File(name) => (name.clone(), true),
    };
    page::Video { href, is_file, chapters: document.steps().any(|step| step.moment.is_some()).then(|| CHAPTERS.to_owned()) }
}

/// A moment of it.
pub(super) fn moment(video: Option<&document::Video>, at: u32) -> page::Moment {
    page::Moment { clock: clock(at), href: video.map(|video| video.at(at)) }
}

/// Steps that have a moment, in the order of the video, each with its end: where the next begins.
fn chapters(document: &Document) -> Vec<(u32, Option<u32>, String)> {
    let mut found: Vec<(u32, String)> =
        document.steps().filter_map(|step| Some((step.moment?, format!("{}. {}", step.number, step.title)))).collect();
    found.sort_by_key(|(at, _)| *at);
    // Of two steps at one moment the first is its chapter.
    found.dedup_by_key(|(at, _)| *at);
    let ends: Vec<Option<u32>> = found.iter().skip(1).map(|(at, _)| Some(*at)).chain([None]).collect();
    found.into_iter().zip(ends).map(|((at, title), end)| (at, end, title)).collect()
}

/// The chapters as WebVTT; none where no step has a moment.
pub(super) fn webvtt(document: &Document) -> Option<String> {
    let time = |seconds: u32| format!("{:02}:{:02}:{:02}.000", seconds / 3600, seconds / 60 % 60, seconds % 60);
    let found = chapters(document);
    let last = found.last()?.0;
    let mut text = String::from("WEBVTT\n");
    for (at, end, title) in &found {
        // The last one goes on to the end, which nobody has said.
        let end = end.unwrap_or(last + 3600);
        let title = title.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
        text.push_str(&format!("\n{} --> {}\n{title}\n", time(*at), time(end)));
    }
    Some(text)
}

/// The chapters as lines, the first at the beginning, as descriptions of videos have them.
pub(super) fn list(document: &Document) -> Option<String> {
    let found = chapters(document);
    let first = found.first()?.0;
    let mut text = String::new();
    if first > 0 {
        text.push_str(&format!("00:00 {}\n", document.say.before_first_step));
    }
    found.iter().for_each(|(at, _, title)| text.push_str(&format!("{} {title}\n", clock(*at))));
    Some(text)
}
