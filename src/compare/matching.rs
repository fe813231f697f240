//! Which fact of the new state is which of the old: by what it is known by, by what it says, and at last by how alike both are.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::document::facts::{Fact, Sort};

/// Less alike than this, two facts are two.
const ALIKE: f64 = 0.45;

/// So many facts before and behind its place a fact is looked for by its words. No guide of people has so many of one sort that are left over.
const REACH: usize = 400;

/// Which fact of the new state is which of the old one.
struct Pairs {
    of_new: Vec<Option<usize>>,
    taken: Vec<bool>,
}

impl Pairs {
    /// Pairs two that are still alone.
    fn add(&mut self, at_new: usize, at_old: usize) {
        if self.of_new[at_new].is_none() && !self.taken[at_old] {
            self.of_new[at_new] = Some(at_old);
            self.taken[at_old] = true;
        }
    }
}

/// Of each fact of the new state, which of the old one it is.
pub(super) fn pairs(old: &[&Fact], new: &[&Fact]) -> Vec<Option<usize>> {
    let mut pairs = Pairs { of_new: vec![None; new.len()], taken: vec![false; old.len()] };
    // The same in all it says, in order: what is written twice is paired first with first.
    let whole = |fact: &Fact| {
        let mut text = String::new();
        fact.write(false, &mut text);
        text
    };
    let keyed = |fact: &&Fact| !fact.key.is_empty();
    let (old_texts, new_texts): (Vec<String>, Vec<String>) =
        (old.iter().map(|f| whole(f)).collect(), new.iter().map(|f| whole(f)).collect());
    same(&old_texts, &new_texts, &mut |n, o| pairs.add(n, o));
    // The same by what it is known by, the first with the first.
    let keys = |facts: &[&Fact]| facts.iter().map(|fact| if keyed(fact) { fact.key.clone() } else { String::new() }).collect::<Vec<_>>();
    let (old_keys, new_keys) = (keys(old), keys(new));
    let mut known: BTreeMap<&str, VecDeque<usize>> = BTreeMap::new();
    for (at_old, key) in old_keys.iter().enumerate().filter(|(at, key)| !key.is_empty() && !pairs.taken[*at]) {
        known.entry(key).or_default().push_back(at_old);
    }
    for (at_new, key) in new_keys.iter().enumerate() {
        if pairs.of_new[at_new].is_none()
            && let Some(at_old) = known.get_mut(key.as_str()).and_then(VecDeque::pop_front)
        {
            pairs.add(at_new, at_old);
        }
    }
    // At last the most alike, as long as they are. A hint that stands alone in its place is the other one, changed.
    let left_new: Vec<usize> = (0..new.len()).filter(|at| pairs.of_new[*at].is_none()).collect();
    let left_old: Vec<usize> = (0..old.len()).filter(|at| !pairs.taken[*at]).collect();
    let words = |facts: &[&Fact], left: &[usize]| left.iter().map(|&at| bag(facts[at])).collect::<Vec<_>>();
    let (new_words, old_words) = (words(new, &left_new), words(old, &left_old));
    let mut scores: Vec<(f64, usize, usize)> = Vec::new();
    for (n, &at_new) in left_new.iter().enumerate() {
        // Of thousands, each is compared with those that stand about where it does.
        let middle = n * left_old.len() / left_new.len();
        for (o, &at_old) in left_old.iter().enumerate().skip(middle.saturating_sub(REACH)).take(2 * REACH) {
            if !may_be(old[at_old], new[at_new]) {
                continue;
            }
            let score = dice(&old_words[o], &new_words[n]);
            if score >= ALIKE {
                scores.push((score, at_new, at_old));
            }
        }
    }
    scores.sort_by(|a, b| b.0.total_cmp(&a.0).then((a.1.abs_diff(a.2), a.1).cmp(&(b.1.abs_diff(b.2), b.1))));
    for (_, at_new, at_old) in scores {
        pairs.add(at_new, at_old);
    }
    pairs.of_new
}

/// Whether two facts with keys of their own can be one: what is known by an id is another thing under another.
fn may_be(old: &Fact, new: &Fact) -> bool {
    old.key.is_empty() && new.key.is_empty() || matches!(new.sort, Sort::Step | Sort::Operation)
}

/// Pairs what is equal, the longest rising row of it first, so that what was moved is the least.
fn same(old: &[String], new: &[String], pair: &mut dyn FnMut(usize, usize)) {
    let (mut start, mut end) = (0, 0);
    while start < old.len() && start < new.len() && old[start] == new[start] {
        pair(start, start);
        start += 1;
    }
    while end < old.len() - start && end < new.len() - start && old[old.len() - 1 - end] == new[new.len() - 1 - end] {
        pair(new.len() - 1 - end, old.len() - 1 - end);
        end += 1;
    }
    let mut places: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for at in (start..old.len() - end).rev() {
        places.entry(&old[at]).or_default().push(at);
    }
    for (at, text) in new.iter().enumerate().take(new.len() - end).skip(start) {
        if let Some(found) = places.get_mut(text.as_str()).and_then(Vec::pop) {
            pair(at, found);
        }
    }
}

/// The words of a fact and of what belongs to it, sorted.
fn bag(fact: &Fact) -> Vec<String> {
    fn gather(fact: &Fact, words: &mut Vec<String>) {
        let text = fact.open.as_deref().unwrap_or(fact.says());
        words.extend(text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_lowercase));
        fact.below.iter().for_each(|below| gather(below, words));
    }
    let mut words = Vec::new();
    gather(fact, &mut words);
    words.sort_unstable();
    words
}

/// How alike two sorted bags of words are: 1 is the same, 0 is nothing in common.
fn dice(one: &[String], other: &[String]) -> f64 {
    let (mut a, mut b, mut common) = (0, 0, 0);
    while a < one.len() && b < other.len() {
        match one[a].cmp(&other[b]) {
            std::cmp::Ordering::Less => a += 1,
            std::cmp::Ordering::Greater => b += 1,
            std::cmp::Ordering::Equal => {
                common += 1;
                a += 1;
                b += 1;
            }
        }
    }
    let all = one.len() + other.len();
    if all == 0 { 0.0 } else { 2.0 * f64::from(common) / all as f64 }
}

/// Whether the order of such facts tells something.
pub(super) fn has_order(sort: Sort) -> bool {
    matches!(sort, Sort::Step | Sort::Operation | Sort::Before | Sort::Check | Sort::Words | Sort::Picture)
}

/// Those of the new state that stand out of order: the fewest that have to be put elsewhere.
pub(super) fn moved(pairs: &[Option<usize>]) -> BTreeSet<usize> {
    let row: Vec<(usize, usize)> = pairs.iter().enumerate().filter_map(|(new, old)| Some((new, (*old)?))).collect();
    // The longest rising row, by its last elements.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = vec![None; row.len()];
    for (at, (_, old)) in row.iter().enumerate() {
        let length = ends.partition_point(|&end| row[end].1 < *old);
        before[at] = length.checked_sub(1).map(|length| ends[length]);
        if length == ends.len() { ends.push(at) } else { ends[length] = at }
    }
    let mut stays = BTreeSet::new();
    let mut next = ends.last().copied();
    while let Some(at) = next {
        stays.insert(row[at].0);
        next = before[at];
    }
    row.iter().map(|(new, _)| *new).filter(|new| !stays.contains(new)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fewest_are_moved() {
        let all = |order: &[usize]| moved(&order.iter().map(|at| Some(*at)).collect::<Vec<_>>()).into_iter().collect::<Vec<_>>();
        assert_eq!(all(&[0, 1, 2, 3]), Vec::<usize>::new());
        assert_eq!(all(&[3, 0, 1, 2]), [0]);
        assert_eq!(all(&[0, 2, 3, 1]), [3]);
    }
}
