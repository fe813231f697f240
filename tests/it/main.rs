//! Tests of the whole program. Unit tests stand beside the code; here are the command line, the literate
//! cases of the rules, values from outside, the published site and the shape of the tree itself.

mod bounds;
mod cli;
mod draft;
mod happens;
mod history;
mod incremental;
mod lists;
mod literate;
mod outside;
mod phrases;
mod preview;
mod reports;
#[path = "../seeded/mod.rs"]
mod seeded;
mod sheets;
mod site;
mod start;
mod supply;
mod talks;
mod tidy;
mod untold;
mod vectors;
mod whole;

/// How many remarks of a text report have this weight and are of this rule.
fn remarks(report: &str, weight: &str, rule: &str) -> usize {
    let lines: Vec<&str> = report.lines().collect();
    let begins = |line: &str| {
        line.trim_start().split_once("  ").is_some_and(|(number, rest)| number.parse::<usize>().is_ok() && rest.starts_with(weight))
    };
    lines.windows(2).filter(|pair| begins(pair[0]) && pair[1].ends_with(&format!(", rule {rule}"))).count()
}
