//! The known name nearest to a misspelt one. When to offer it is left to the caller.

/// The name among `known` that was most likely meant by `given`, or none if all are far off.
/// At most a third of the longer word may differ.
pub fn nearest<'k>(given: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    // The distance costs the product of the lengths; a name is never this long.
    if given.len() > 64 {
        return None;
    }
    known
        .into_iter()
        .filter(|name| name.len() <= 64)
        .map(|name| (strsim::damerau_levenshtein(given, name), name))
        .filter(|(distance, name)| *distance <= (name.chars().count().max(given.chars().count()) / 3).max(1))
        .min()
        .map(|(_, name)| name)
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
    }
}
