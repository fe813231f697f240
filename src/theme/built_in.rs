//! The built-in files of the theme, each in one row: the templates with what they are for and what they get beside `site`, `say`, `root` and
//! `page`, then styles and scripts.

macro_rules! built_in {
    (templates { $($template:literal: $about:literal,)* } others { $($other:literal)* }) => {
        /// The built-in files by name.
        pub const BUILT_IN: &[(&str, &str)] = &[
            $(($template, include_str!(concat!("../../themes/", $template))),)*
            $(($other, include_str!(concat!("../../themes/", $other))),)*
        ];

        /// The templates, with what each is for and what it gets.
        pub(super) const TEMPLATES: &[(&str, &str)] = &[$(($template, $about),)*];
    };
}

built_in! {
    templates {
        "base.html": "the frame of every page: head, strip with the search field, foot",
        "front.html": "the front page; gets `front` (Front)",
        "guide.html": "a guide; gets `guide` (Guide)",
        "torque.html": "a guide's torque sheet; gets `guide` (Guide)",
        "checklist.html": "a checklist with the choice of its paper; gets `guide` (Guide)",
        "checklist-sheet.html": "the sheet of a checklist; gets `guide` (Guide)",
        "options.html": "the options switch of a guide, its torque sheet and its checklist; gets `guide` (Guide)",
        "titleblock.html": "the title block of a guide and of its torque sheet; gets `guide` (Guide) and `kind`",
        "caution.html": "a safety panel; gets `c` (Caution)",
        "departure.html": "a departure from the supplier's sheet; gets `d` (Departure)",
        "operation.html": "an operation with its facts, in a step's list and in the row of the sentence that tells it; gets `o` (Operation)",
        "spec.html": "a value with its name; gets `n` (NamedValue)",
        "wait.html": "the time to wait behind the work of a step; gets `s` (Step)",
        "tool.html": "a tool in a line; gets `t` (Tool)",
        "torques.html": "a table of torques; gets `rows` (TorqueRow), `guide_href`, `table_name`, `sheet_line` and `with_order`",
        "register.html": "guides in lines, by which every list shows them; gets `g` (GuideLine)",
        "groups.html": "the guides of each vehicle and of each system; gets `groups` (Groups)",
        "group.html": "the guides of one vehicle or system; gets `group` (Group)",
        "parts.html": "part numbers over all guides; gets `parts` (Parts)",
        "part-uses.html": "where a part is used; gets `p` (PartRow)",
        "news.html": "what is new; gets `news` (News)",
        "kept.html": "the guides kept on the device, filled by the script",
        "values.html": "the vehicles with tightening values; gets `values` (Values)",
        "vehicle.html": "tightening values of a vehicle; gets `vehicle` (VehicleValues)",
        "thread.html": "tightening values of a thread; gets `thread` (ThreadValues)",
        "threads.html": "the list of threads with their holes; gets `threads` (Threads)",
        "tools.html": "tools over all guides; gets `tools` (Tools)",
        "handbook.html": "the list of the handbook's chapters; gets `chapters` (Chapter)",
        "chapter.html": "a chapter of the handbook; gets `chapter` (Chapter)",
        "compared.html": "the page of a comparison, which is no part of the site; gets `compared` (Compared)",
        "difference.html": "a difference between two states of a guide; gets `d` (ComparedRow)",
        "since.html": "the panel that tells what changed; gets `guide` (Guide)",
        "gone.html": "the page in the place of a guide that was moved or withdrawn; gets `gone` (Gone)",
        "findings.html": "the reviewer's page, which is no part of the site; gets `review` (Findings)",
    }
    others {
        "compared.css"
        "sheet.css"
        "checklist.css"
        "bay.css"
        "paper.css"
        "code.css"
        "findings.css"
        "site.js"
        "history.js"
        "history.css"
        "lists.css"
        "options.js"
        "bay.js"
        "bay-page.js"
        "bay-judge.js"
        "bay-open.js"
        "bay-entry.js"
        "bay-record.js"
        "record.js"
        "record-read.js"
        "findings.js"
        "search.js"
        "offline.js"
        "kept.js"
        "worker.js"
    }
}
