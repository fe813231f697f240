//! A moment of a talk or a video: minutes and seconds from its beginning.

/// The seconds of `mm:ss` or `h:mm:ss`; decimals of a second are left out.
pub fn read(text: &str) -> Option<u32> {
    let whole = text.trim().split_once(['.', ',']).map_or(text.trim(), |(whole, _)| whole);
    let parts: Vec<&str> = whole.split(':').collect();
    let digits = |part: &&str| (1..=4).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
    if !(2..=3).contains(&parts.len()) || !parts.iter().all(digits) {
        return None;
    }
    let numbers: Vec<u32> = parts.iter().filter_map(|part| part.parse().ok()).collect();
    let below = |number: u32| number < 60;
    match numbers.as_slice() {
        [minutes, seconds] if below(*seconds) => Some(minutes * 60 + seconds),
        [hours, minutes, seconds] if below(*minutes) && below(*seconds) => Some((hours * 60 + minutes) * 60 + seconds),
        _ => None,
    }
}

/// `mm:ss`, or `h:mm:ss` from one hour on.
pub fn clock(seconds: u32) -> String {
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    if hours > 0 { format!("{hours}:{minutes:02}:{seconds:02}") } else { format!("{minutes:02}:{seconds:02}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moments_are_read_and_spelt() {
        for (text, seconds) in [
            ("00:05", Some(5)),
            ("72:30", Some(4350)),
            ("1:02:03", Some(3723)),
            ("01:02.500", Some(62)),
            ("5", None),
            ("1:75", None),
            ("1:2:3:4", None),
            ("a:b", None),
        ] {
            assert_eq!(read(text), seconds, "{text}");
        }
        assert_eq!((clock(65), clock(3723)), ("01:05".to_owned(), "1:02:03".to_owned()));
    }
}
