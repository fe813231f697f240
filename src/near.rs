//! The known name nearest to a misspelt one. When to offer it is left to the caller.

/// A name is never this long, in bytes.
const LONGEST: usize = 64;
/// So many names are looked at.
const MOST_KNOWN: usize = 2_000;
/// So many of them are compared letter by letter.
const MOST_RECKONED: usize = 200;

/// The name among `known` that was most likely meant by `given`, or none if all are far off.
/// At most a third of the longer word may differ.
pub fn nearest<'k>(given: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    // The distance costs the product of the lengths; a name is never this long.
    if given.len() > LONGEST {
        return None;
    }
    let letters = given.chars().count();
    known
        .into_iter()
        // A guide has a few hundred names; where somebody makes it thousands, each slip may not cost a look at all of them.
        .take(MOST_KNOWN)
        .filter(|name| name.len() <= LONGEST)
        .map(|name| (name, name.chars().count()))
        // Each letter more or less is a step by itself, so most names are out before anything is reckoned.
        .filter(|(_, long)| long.abs_diff(letters) <= room(*long, letters))
        .take(MOST_RECKONED)
        .map(|(name, long)| (strsim::damerau_levenshtein(given, name), long, name))
        .filter(|(distance, long, _)| *distance <= room(*long, letters))
        .map(|(distance, _, name)| (distance, name))
        .min()
        .map(|(_, name)| name)
}

/// How many letters may differ.
fn room(one: usize, other: usize) -> usize {
    (one.max(other) / 3).max(1)
}

/// The tail of a remedy that names what was probably meant, empty if nothing is near.
pub fn did_you_mean(near: Option<&str>) -> String {
    near.map_or_else(String::new, |name| format!("; did you mean `{name}`?"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_recognised_and_a_stranger_is_not() {
        let known = ["torque", "title", "thread"];
        assert_eq!(nearest("torqe", known), Some("torque"));
        assert_eq!(nearest("colour", known), None);
        assert_eq!(nearest(&"x".repeat(10_000), known), None);
        // The first are looked at and no others, so that a slip costs the same among any number of names.
        let names: Vec<String> = (0..5_000).map(|at| format!("name-{at:04}")).collect();
        assert_eq!(nearest("nome-0007", names.iter().map(String::as_str)), Some("name-0007"));
        assert_ne!(nearest("nome-4999", names.iter().map(String::as_str)), Some("name-4999"));
    }
}
