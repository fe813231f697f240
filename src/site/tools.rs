//! Tools over all guides: which are needed where.

use std::collections::BTreeMap;

use crate::site::Kept;
use crate::theme::data::{ToolUse, Tools};

/// The data of the page of tools.
pub fn page(summaries: &[Kept]) -> Tools<'_> {
    let mut tools: BTreeMap<(String, String), ToolUse<'_>> = BTreeMap::new();
    for summary in summaries {
        for tool in &summary.tools {
            let used = tools
                .entry((tool.name.to_lowercase(), tool.id.clone()))
                .or_insert_with(|| ToolUse { tool: tool.clone(), guides: Vec::new() });
            for size in &tool.sizes {
                if !used.tool.sizes.contains(size) {
                    used.tool.sizes.push(size.clone());
                }
            }
            used.guides.push(&summary.line);
        }
    }
    Tools { tools: tools.into_values().collect() }
}
