//! `tool-unfit`: none of the tools that an operation names fits its fasteners.

use crate::finding::{Finding, RuleName, Severity};
use crate::guide::model::{DriveText, Text, Tool};
use crate::review::rule::{Check, Family, Rule, Subject};

pub(crate) const RULE: Rule =
    Rule::new(RuleName::ToolUnfit, Family::Tightening, Severity::Query, Check::Guide(check), include_str!("tool_unfit.md"));

fn check(subject: &Subject<'_, '_>, findings: &mut Vec<Finding>) {
    for step in &subject.guide.steps {
        for operation in &step.operations {
            let tools: Vec<&Tool> = operation.with.iter().chain(&step.tools).filter_map(|id| subject.names.tool(&id.value)).collect();
            let sized: Vec<&Tool> = tools.iter().copied().filter(|tool| !tool.drives.is_empty() && tool.offset.is_none()).collect();
            // A wrench without sockets takes those of the list.
            if sized.is_empty() || operation.with.is_empty() {
                continue;
            }
            for named in &operation.hardware {
                let Some(hardware) = subject.names.hardware(&named.id.value) else { continue };
                let Some(drive) = hardware.drive.as_ref().map(|drive| DriveText::new(drive.as_str())) else { continue };
                let covers = |tool: &&Tool| tool.drives.iter().any(|size| size.is(&drive));
                if operation.by_hand || tools.iter().any(covers) {
                    continue;
                }
                let names: Vec<String> = sized.iter().map(|tool| format!("`{}`", tool.name.value)).collect();
                let message = format!(
                    "`{}` has {}, which {} does not fit",
                    hardware.name.value,
                    hardware.drive.as_ref().map_or("", Text::as_str),
                    names.join(" or ")
                );
                let finding = RULE.at(
                    subject.guide.place(named.span),
                    message,
                    "name a tool that has this size in `with`, or add the size to the tool's `sizes` if it has it",
                );
                findings.push(finding);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::trial::{finds, leaves_alone};

    const GUIDE: &str = r#"tools = ["small", "large", "driver"]
item = [{ id = "cover", name = "Rail end cover" }]
tool = [
  { id = "small", name = "Small sockets", sizes = ["8 mm hex", "10 mm hex"] },
  { id = "large", name = "Large sockets", sizes = ["16 mm hex", "18 mm hex"] },
  { id = "driver", name = "Screwdriver" },
]
hardware = [{ id = "bolt", name = "Bolt", drive = "16 mm hex" }, { id = "screw", name = "Screw", drive = "T30" }]"#;

    #[test]
    fn the_fault_is_found_at_its_words() {
        let cases = [
            (r#"do = [{ remove = "cover", hardware = "2 x bolt", with = ["small"] }]"#, "Take it off.", "2 x bolt"),
            (r#"do = [{ remove = "cover", hardware = "2 x screw", with = ["small"] }]"#, "Take it off.", "2 x screw"),
            (r#"do = [{ fit = "cover", hardware = "2 x screw", with = ["small", "large"] }]"#, "Fit it.", "2 x screw"),
        ];
        finds(&RULE, GUIDE, &cases);
    }

    #[test]
    fn what_is_right_is_left_alone() {
        let cases = [
            (r#"do = [{ remove = "cover", hardware = "2 x bolt", with = ["large"] }]"#, "Take it off."),
            (r#"do = [{ remove = "cover", hardware = "2 x bolt", with = ["small", "large"] }]"#, "Take it off."),
            (r#"do = [{ remove = "cover", hardware = "2 x screw", with = ["driver"] }]"#, "Take it off."),
            (r#"do = [{ remove = "cover", hardware = "2 x bolt" }]"#, "Take it off."),
            (r#"do = [{ fit = "cover", hardware = "2 x bolt", by_hand = true, with = ["small"] }]"#, "Fit it."),
        ];
        leaves_alone(&RULE, GUIDE, &cases);
    }
}
