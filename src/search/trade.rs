//! Words of the trade that mean the same, so that whoever asks for the one finds the other. Common practice, not a standard: what American
//! and European shops, manuals and counters call the same thing. A shop adds its own by the key `also`.

use super::fold::fold;

/// One group a line, its members parted by `=`; a member may be several words.
const GROUPS: &str = include_str!("trade.txt");

/// The groups of the trade and those of a shop, each member as its folded words; a group of one says nothing.
pub(super) fn groups(also: &[&str]) -> Vec<Vec<Vec<String>>> {
    let words = |member: &str| {
        let mut words = Vec::new();
        fold(&member.replace('-', " "), |word| words.push(word.to_owned()));
        words
    };
    let lines = GROUPS.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'));
    let members = |line: &str| line.split('=').map(words).filter(|member| !member.is_empty()).collect::<Vec<_>>();
    lines.chain(also.iter().copied()).map(members).filter(|group| group.len() > 1).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A word in two groups would make one of both; a group of one says nothing.
    #[test]
    fn every_member_stands_once() {
        let mut seen = std::collections::BTreeSet::new();
        for group in groups(&[]) {
            assert!(group.len() > 1, "{group:?}");
            for member in group {
                assert!((1..=3).contains(&member.len()), "{member:?}");
                assert!(seen.insert(member.clone()), "{member:?} stands twice");
            }
        }
        assert_eq!(GROUPS.lines().filter(|line| line.contains('=')).count(), groups(&[]).len());
    }

    #[test]
    fn a_shop_adds_its_own_and_a_group_of_one_says_nothing() {
        let own = &groups(&["Crew-Seat = bench", "alone", " = "])[groups(&[]).len()..];
        assert_eq!(own, [vec![vec!["crew".to_owned(), "seat".to_owned()], vec!["bench".to_owned()]]]);
    }
}
