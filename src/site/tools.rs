//! Tools over all guides: which are needed where.

use std::collections::BTreeMap;

use crate::site::Listed;
use crate::theme::data::{ToolUse, Tools};

/// The data of the page of tools.
pub fn page(summaries: &[Listed]) -> Tools<'_> {
    let mut tools: BTreeMap<(String, String), ToolUse<'_>> = BTreeMap::new();
    for summary in summaries {
        for tool in &summary.tools {
            let used = tools.entry((tool.name.to_lowercase(), tool.id.clone())).or_insert_with(|| ToolUse {
                row: String::new(),
                tool: tool.clone(),
                guides: Vec::new(),
            });
            for size in &tool.sizes {
                if !used.tool.sizes.contains(size) {
                    used.tool.sizes.push(size.clone());
                }
            }
            used.guides.push(&summary.line);
        }
    }
    let mut tools: Vec<ToolUse<'_>> = tools.into_values().collect();
    tools.iter_mut().enumerate().for_each(|(at, used)| used.row = format!("tool-{}", at + 1));
    Tools { tools }
}
