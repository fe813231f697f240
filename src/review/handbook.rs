//! The author's handbook as data: chapters on the format, from the table of keys, and one for each rule,
//! from the rule itself. Making pages of them is left to `publish`.

mod happens;

use crate::described::{self, Row};
use crate::guide::keys::{Block, KEYS, Key, keys_of};
use crate::guide::prose::RefKind;
use crate::guide::untold::may_be_untold;
use crate::review::report::{json, questions};
use crate::review::rule::{Family, Rule};
use crate::review::rules;

/// A part of a chapter. Between backticks stands what is typed.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// Its heading.
    pub title: String,
    /// Paragraphs.
    pub paragraphs: Vec<String>,
    /// Keys to list.
    pub keys: Vec<&'static Key>,
    /// Fields of a report to list.
    pub fields: Vec<Row>,
    /// The text of a guide, or of a piece of one.
    pub example: Option<String>,
}

/// A chapter.
#[derive(Clone, Debug)]
pub struct Chapter {
    /// The name of its page.
    pub file: String,
    /// Its heading.
    pub title: String,
    /// A sentence under the heading.
    pub lead: String,
    /// The group it is listed in.
    pub group: String,
    /// Its parts.
    pub sections: Vec<Section>,
}

/// A guide that shows the whole format in one page.
pub const EXAMPLE: &str = include_str!("handbook_example.md");
/// The same guide with every fact in the long form.
pub const LONG: &str = include_str!("handbook_long.md");
/// A shop file that it can lean on.
pub const SHOP_EXAMPLE: &str = include_str!("rules/example_shop.toml");

/// All chapters in order.
pub fn chapters() -> Vec<Chapter> {
    let mut chapters = vec![
        first_guide(),
        once_chapter(),
        keys_chapter(),
        values_chapter(),
        untold_chapter(),
        happens::chapter(),
        ledger_chapter(),
        joints_chapter(),
        draft_chapter(),
        reports_chapter(),
    ];
    for family in Family::ALL {
        chapters.extend(rules::ALL.iter().filter(|rule| rule.family == family).map(|rule| rule_chapter(rule)));
    }
    chapters
}

fn paragraphs(texts: &[&str]) -> Vec<String> {
    texts.iter().map(|text| (*text).to_owned()).collect()
}

fn first_guide() -> Chapter {
    let schemes: Vec<String> = RefKind::ALL.iter().map(|(_, word)| format!("`{word}:`")).collect();
    Chapter {
        file: "first-guide".to_owned(),
        title: "Write a guide".to_owned(),
        lead: "A guide is one text file. This chapter shows a whole one and says what each piece is.".to_owned(),
        group: "The format".to_owned(),
        sections: vec![
            Section {
                title: "Where it stands".to_owned(),
                paragraphs: paragraphs(&[
                    "`bayleaf start` in an empty folder writes a shop file and a small guide that reviews clean, with a line of explanation for each fact. `bayleaf start guide side-step --list kit.csv` adds the skeleton of a guide: parts and hardware come from a list, saved as CSV or pasted as lines such as `4 x Hex bolt M8x25 8.8`, and what the list does not say is `untold`.",
                    "Make a folder with a short name in `guides/`, and in it a file `guide.md`: the folder's name becomes the page's address. Pictures go into the same folder. A guide without pictures may be a single file `guides/its-name.md`.",
                    "What several guides share stands in `guides/shop.toml`: the shop's name, vehicles, tools, items, hardware, values and standing cautions.",
                    "Then run `bayleaf review`: it names what is missing, with the line. When it is silent, run `bayleaf publish` and open `site/index.html`.",
                ]),
                ..Section::default()
            },
            Section {
                title: "Blocks, phases and steps".to_owned(),
                paragraphs: paragraphs(&[
                    "What is done stands in the sentence that tells it, as a link: `[Take the seat out](remove:seat)`. Other facts stand in blocks between two lines of `+++`: one at the top of the file for the whole guide, and one directly under the heading of any step, with an empty line between heading and block. Each line is `key = value`; texts stand in quotation marks.",
                    "Short facts of a step may stand in its heading, without spaces and with commas in lists: `## Take the seat out {#seat-out minutes=15 needs=isolate cautions=restraint,lifting}`. A step that has no others needs no block.",
                    "A heading with `##` starts a step. A heading with `#` starts a phase that groups steps, such as Strip down, Fit, Close up. Everything else is Markdown: paragraphs, lists, tables, pictures.",
                    "A picture is written `![what it shows](file.svg)`, in a paragraph of its own, and always with words.",
                    "To point at places on a picture, write a `[[callout]]` for each in the step's block: the `picture`, `at` as two shares such as `[0.42, 0.31]` from the left edge and from the top, and the `words`. Page and checklist show numbered balloons on the picture and the words below it.",
                ]),
                ..Section::default()
            },
            Section {
                title: "Say a value once".to_owned(),
                paragraphs: vec![
                    "Write each value in a spec with its source, and refer to it by its id. In the words, `[](spec:seat-bolt)` shows the value and `[the four rail bolts](hardware:seat-bolt)` shows the words.".to_owned(),
                    format!("These can be referred to: {}.", schemes.join(", ")),
                    "bayleaf never proposes a torque. Look it up with the vehicle maker or the supplier, and say where.".to_owned(),
                ],
                ..Section::default()
            },
            Section {
                title: "A whole guide".to_owned(),
                paragraphs: paragraphs(&["The van, the shop and every value in it are invented."]),
                example: Some(EXAMPLE.to_owned()),
                ..Section::default()
            },
            Section {
                title: "The shop file".to_owned(),
                paragraphs: paragraphs(&[
                    "What the guide above takes from `guides/shop.toml`: a vehicle and two tools. The shop file has no `+++` lines. Marks on an item, such as `battery` or `restraint`, say why work on it is dangerous; a caution says in `covers` which marks it speaks for.",
                ]),
                example: Some(SHOP_EXAMPLE.to_owned()),
                ..Section::default()
            },
            Section {
                title: "Publish and print".to_owned(),
                paragraphs: paragraphs(&[
                    "`bayleaf publish` writes the site into `site/`; `--to FOLDER` chooses another folder. The folder may hold nothing that bayleaf did not write. Copy it to any web server, or to a USB stick: it needs no network. Only what changed is made anew, and files that did not change keep their time, so that a copy moves the others alone; what was made from what is remembered in the hidden file `.bayleaf-cache-site` beside the site, which may be removed at any time. `--anew` makes everything.",
                    "`bayleaf handbook` writes this handbook into a folder of your own machine; `--to FOLDER` chooses which. On your site it stands only where the shop file says `handbook = true`: its examples carry invented torques, which no customer needs.",
                    "Every page and every sheet says who comes first: the vehicle maker's instructions, local rules, licensed people. `deferral` in the shop file puts your own words there; where they leave one of the three out, the built-in sentence follows them. A page of your own templates that does not say it is refused, and nothing is published.",
                    "A guide with a hold is left out and named. With `--unreleased` it is published all the same, marked NOT RELEASED on each of its pages and sheets.",
                    "Open a guide, choose the checklist for A4 or Letter, and print. Boxes for options stand at the top of the first sheet: a row with `only with` counts for a vehicle that has the option. The fingerprint on page and sheet is made of what the guide says, its pictures among it: it changes with what a reader sees and with nothing else, so that a remark in the shop file, or a wrench that was calibrated again, leaves it as it is. If page and sheet show the same one, both say the same.",
                ]),
                ..Section::default()
            },
            Section {
                title: "Findings, and when one is acceptable".to_owned(),
                paragraphs: paragraphs(&[
                    "A hold keeps the guide out of the site. A query has to be answered: mend it, or accept it with a reason. A remark is worth a look.",
                    "To accept a finding, write `[[accept]]` with the `rule` and the `reason` in the step's block, or in the guide block for the guide as a whole. The reason is printed in every review, and an acceptance that nothing answers to is itself a finding.",
                    "A shop can weigh a rule in its own way: a block `[[rule]]` in `guides/shop.toml` with its `name`, a `severity` (hold, query, remark or off) and the `reason`, which is printed in every review. What could not be read always holds.",
                ]),
                example: Some("[[accept]]\nrule = \"torque-missing\"\nreason = \"the supplier gives none and was asked on 2026-08-03\"\n".to_owned()),
                ..Section::default()
            },
        ],
    }
}

fn once_chapter() -> Chapter {
    let section = |title: &str, texts: &[&str]| Section { title: title.to_owned(), paragraphs: paragraphs(texts), ..Section::default() };
    let example = |title: &str, words: &str, text: &str| Section {
        title: title.to_owned(),
        paragraphs: paragraphs(&[words]),
        example: Some(text.to_owned()),
        ..Section::default()
    };
    Chapter {
        file: "said-once".to_owned(),
        title: "Say it once".to_owned(),
        lead: "An operation stands in the sentence that tells it, and a thing is defined where it is first used, in one line.".to_owned(),
        group: "The format".to_owned(),
        sections: vec![
            section(
                "An operation in its sentence",
                &[
                    "An operation is a link whose address is the verb, a colon, and what it is done to: `[Take the cover off](remove:cover)`. With more than one word behind the colon the address stands in angle brackets: `[Tighten the four bolts](<tighten: 4 x seat-bolt, with torque-wrench-60>)`. The verbs are those of an operation in the list of keys; `switch off` is written with or without the line between.",
                    "First come the things: ids with commas between, `4 x seat-bolt` for so many of a part or of hardware. Hardware alone is what is worked on; beside a thing it is what holds it, as in `fit: seat, 4 x seat-bolt`. Then come details, each with its key in front: `torque seat-bolt`, `specs front-gap`, `when heated-seat`, `with trim-lever, gloves`, `note left-hand thread`, `loosen as head-bolt`, and `keep`, `by hand`, `discard hardware` by themselves. A value without a key is the torque: `tighten: 2 x nut, 9 N·m, source sheet`. A piece without a key goes on with the one before it, so a note may have commas. Every key of an operation has this short form; a note with an angle bracket or a semicolon in it needs the long one.",
                    "What the sentence names beside its operation belongs to it: the torque of what is done up, the values of an `inspect`, `measure`, `test` or `road_test`, and tools. `[Tighten the four bolts](<tighten: 4 x seat-bolt>) to [](spec:seat-bolt)` needs no `torque`. A torque that the operation states itself stays as it is.",
                    "A thing that is named once needs no definition: its name in quotation marks makes it an item, as in `[Wipe both faces](<clean: \"Mounting faces on the seat box\">)`.",
                    "Page, sheet and bay view show sentence and operation as one row, and it is the sentence that is ticked. So each operation has a sentence of its own, in a paragraph or a list of the step; headings, tables, notes and cautions have no rows. Operations count in the order of the sentences, behind those of the list `do`.",
                ],
            ),
            section(
                "The list `do`",
                &[
                    "What needs no sentence stands in the list `do` of the step's block, as small tables or as texts in the same short form: `do = [\"raise: bonnet\", \"disconnect: rear-plug, when tow-pack\"]`. It comes before what the sentences tell.",
                    "`bayleaf review --mend` carries an operation from the list into its sentence where that is certain: one plain sentence names its thing by a reference and has its verb, and no other sentence or operation of the step does. Everything is done in the same order afterwards, with the same facts.",
                ],
            ),
            section(
                "In one line, near its use",
                &[
                    "A definition may stand in one line: its id, then its name and its details with semicolons between. At the top of the guide or in the shop file a heading such as `[hardware]` stands above the lines; in a step's block each line begins with the word, as `hardware.seat-bolt = \"...\"`. A step may define parts, hardware, specs, connectors and items that it uses first; their ids are known in the whole guide.",
                    "Details are known by their looks. Hardware: `4 x` before the name is what the kit holds, `4 on vehicle`, thread, length, class, drive, and a word such as `clip` for what it is. A part: its number, if it has no space in it. A spec: a value is known by its unit; `crosswise`, `dry`, `aluminium` and passes such as `50 %, 100 %` by themselves; a source by its id with what stands in brackets behind it. Items and connectors: marks such as `restraint`. A change: its day, then the words. All others have their key in front: `note two people`, `behind rail-covers`, `retorque after 100 km`, `number 12 345`.",
                    "A spec without a name belongs to what has its id. A definition that is too long for one line stands in the long form, `[[spec]]` with a line for each key, or as `[spec.seat-bolt]` among short ones.",
                ],
            ),
            example("The same job, the short way", "The guide of the first chapter again.", EXAMPLE),
            example(
                "The same job, the long way",
                "The same facts, each with its key. Page, sheets and data for other programs say the same.",
                LONG,
            ),
        ],
    }
}

fn keys_chapter() -> Chapter {
    Chapter {
        file: "keys".to_owned(),
        title: "The keys of each block".to_owned(),
        lead: "Every key that a guide or the shop file may have, what it takes and what it means.".to_owned(),
        group: "The format".to_owned(),
        sections: Block::ALL
            .into_iter()
            .map(|block| {
                let name = block.name();
                let title = name.strip_prefix("the ").or_else(|| name.strip_prefix("a ")).or_else(|| name.strip_prefix("an ")).unwrap_or(name);
                let mut chars = title.chars();
                let title = chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect());
                let intro = match block {
                    Block::Operation => "In the address of a link in a sentence, or in a step's `do` list: exactly one of the verbs, then how. A torque may also stand in place, with its `source`.",
                    Block::Shop => "The file `guides/shop.toml`. It has no `+++` lines.",
                    Block::Guide => "Between the `+++` lines at the top of the file.",
                    Block::Step => "Between `+++` lines directly under the step's heading.",
                    _ => "",
                };
                let paragraphs = if intro.is_empty() { Vec::new() } else { vec![intro.to_owned()] };
                Section { title, paragraphs, keys: keys_of(block).collect(), ..Section::default() }
            })
            .collect(),
    }
}

fn values_chapter() -> Chapter {
    let mut rows: Vec<String> = Vec::new();
    for dimension in crate::quantity::Dimension::ALL {
        let units: Vec<String> =
            crate::quantity::units().iter().filter(|unit| unit.dimension == dimension).map(|unit| format!("`{}`", unit.symbol)).collect();
        rows.push(format!("{}: {}", dimension.name(), units.join(", ")));
    }
    Chapter {
        file: "values".to_owned(),
        title: "Values and units".to_owned(),
        lead: "How a value is written, and which units are read.".to_owned(),
        group: "The format".to_owned(),
        sections: vec![
            Section {
                title: "Forms".to_owned(),
                paragraphs: paragraphs(&[
                    "A value is text with its unit: `45 N·m`, a range `8..12 N·m`, a tolerance `24 ±3 N·m`, a limit `max 5 mm` or `min 10 mm`, a torque with an angle `30 N·m + 90°`, a fraction `1 1/8 in`.",
                    "A second or third unit may stand beside it: `45 N·m (33 lb·ft)`. They must say the same within the rounding of their digits. Where only one is given, pages compute the other, and a limit never gets looser by it. A distance of service is stated as the trade states it: `1000 km (600 mi)`, round kilometres and round miles within 4 %.",
                    "The usual spellings of the trade are read, such as Nm, lb-ft, ft lbs, in-lb; one spelling is printed. What can be read in two ways (gal, lb or kg as a torque) is refused.",
                    "Decimals have a point. Only where the shop's language has a comma is a comma read.",
                ]),
                ..Section::default()
            },
            Section { title: "Units".to_owned(), paragraphs: rows, ..Section::default() },
        ],
    }
}

fn joints_chapter() -> Chapter {
    let section = |title: &str, texts: &[&str]| Section { title: title.to_owned(), paragraphs: paragraphs(texts), ..Section::default() };
    Chapter {
        file: "joints".to_owned(),
        title: "Tightening and wiring".to_owned(),
        lead: "What the review works out from threads, wrenches, connectors and circuits, and what the pages draw.".to_owned(),
        group: "The format".to_owned(),
        sections: vec![
            section(
                "Is the torque believable?",
                &[
                    "From `thread` and `class` of the hardware and `condition` of the spec the review works out two torques: one beyond which the fastener stretches whatever the friction, and one at which it hardly clamps. A torque outside is doubted, with the sum shown. Without a class the window is as wide as all classes in use. `into` says that the thread is in aluminium, plastic or an insert, where a low torque may be meant; how much such a thread bears is not known here.",
                    "These torques are limits to doubt a value by. They are never printed on a page and are no values to work to: the value to use is the maker's.",
                ],
            ),
            section(
                "Order and passes",
                &[
                    "`pattern` names the order: `circle` for 4 to 24 on a circle, `rectangle` for `rows` of them from the middle outward, `crosswise` for two rows, `in-order` for one after the other, `maker-sequence` for the sequence that the source shows and the guide does not repeat. `order = \"1-4-2-3\"` gives the supplier's own; with a pattern it is held against that. Positions run clockwise from the top of a circle, and row by row from the top left of a rectangle.",
                    "Pages and checklists draw the order with the number of each place; boxes stand in the same order, a row for each pass in `stages`. Passes are percentages or torques and rise to 100 %; `check 100 %` is a check pass. On `loosen` or `remove`, `loosen_as` names the spec in the reverse of whose order the hardware is undone, and `loosen_stages = [\"1/4 turn\", \"out\"]` the passes of undoing, drawn and ticked in the same way. Passes of four fasteners or more ask for an order; so do six bolts or more of one joint in a single pass, where `in-order` says that any will do.",
                ],
            ),
            section(
                "Wrench and adapter",
                &[
                    "A torque wrench has a `range`; the review says where it does not reach, and pages name the listed wrench with the narrowest range that does. With a crowfoot in `with`, whose tool has an `offset`, the operation says the `adapter_angle` and the wrench its `lever`: page and checklist then print what the wrench is set to. A socket extension in line with the drive needs none of this.",
                    "`retorque = \"after 100 km\"` in a spec puts the check into the follow-up of page and checklist. `locker` and `lubricant` say what is put on the thread.",
                ],
            ),
            section(
                "Connectors and circuits",
                &[
                    "A `[[connector]]` lists its cavities: `pin = [{ at = \"1\", what = \"Left lamp\", colour = \"YE\", wire = \"1.5 mm²\" }]`. `layout` shows how they stand, and the face is drawn in each step that works on the connector or speaks of it: colours, letters of IEC 60757 and hatches.",
                    "A `[[circuit]]` has its `wire`, `current`, `length` and `fuse`. The review holds the fuse against the shop's `[[wire]]` limits and the voltage lost on the way against the shop's `drop`. What the shop file does not say is told as unknown, never guessed.",
                ],
            ),
        ],
    }
}

fn ledger_chapter() -> Chapter {
    let section = |title: &str, texts: &[&str]| Section { title: title.to_owned(), paragraphs: paragraphs(texts), ..Section::default() };
    Chapter {
        file: "ledger".to_owned(),
        title: "What is opened is closed".to_owned(),
        lead: "The review keeps books: what every operation opens, closes, takes off and puts on, for every vehicle the guide is for."
            .to_owned(),
        group: "The format".to_owned(),
        sections: vec![
            section(
                "Things on the vehicle",
                &[
                    "An item or connector is there before work starts: fitted, connected, tight, full, on the ground, not running. Nine pairs of operations open and close it: `remove` and `fit`, `disconnect` and `connect`, `loosen` and `tighten`, `drain` and `fill`, `raise` and `lower`, `cap` and `uncap`, `cover` and `uncover`, `switch_off` and `switch_on`, `start` and `stop`. Each pair is kept apart from the others.",
                    "What is opened must be closed by the end. What is closed must have been opened before, except that `tighten` may be repeated. What is open must not be opened again.",
                    "Capping, covering and switching begin as the opposite of the first operation for that vehicle, and must end as they began: a filler is uncapped and capped again, an open line is capped and uncapped again.",
                    "`open_at_start = true` says that a thing is off, apart, loose or empty before work starts: it must be closed by the end, as if the guide had opened it. That says nothing about raising or starting it. `stays` says why it may stay as it is. `discard` throws it away: nothing is owed then, and nothing may be done with it afterwards, not even a look.",
                ],
            ),
            section(
                "Parts of the kit",
                &[
                    "A part is in the kit before work starts, as many as `supplied` says, one if it says nothing. `fit` takes one out, or as many as `count` says; `remove` puts it beside what came off. At the end none may be left but those in `spare`. A part that is laid, connected, filled in, applied, capped or used as a cover counts as used up.",
                    "A part is apart, loose and empty until it is connected, tightened or filled. What is disconnected, loosened or drained on it must be closed again. How it comes out of the box nobody can tell from the guide: loosening or draining it is never too early and filling it never too often, and a part that comes with a cap or cover on, or switched off, need not end so.",
                ],
            ),
            section(
                "Hardware",
                &[
                    "Hardware is counted: on the vehicle (`on_vehicle`), in the kit (`supplied`), and in the tray with what came off. `hardware = \"4 x seat-bolt\"` beside `remove`, `disconnect`, `drain`, `uncap` or `uncover` takes four off into the tray, or throws them away with `discard_hardware = true`. Beside `fit`, `connect`, `fill`, `cap`, `cover`, `apply` or `route` it puts four on: first from the tray, then from the kit. `loosen` and `tighten` leave it in place.",
                    "At the end the tray must be empty, and no more may be left in the kit than `spare` says. Nothing may be taken off or tightened that is not there. What is loosened must all be tight at the end; so must what is started with `by_hand = true`, if any operation of the guide tightens that hardware.",
                    "Hardware with `one_use = true` goes from the tray to the bin: new ones must be put on, and what was loosened may not be tightened again. Hardware of the shop file comes from the shelf in any number; so does hardware that states neither `supplied` nor `on_vehicle`.",
                ],
            ),
            section(
                "Reach and order",
                &[
                    "`behind` names what stands in front of a thing: it must be off whenever the thing is worked on. Looking, measuring, testing, switching, starting, raising, lowering and throwing away need no reach. A step comes after those it `needs`.",
                ],
            ),
            section(
                "Orders that keep people whole",
                &[
                    "Some orders are looked at without any `needs`, from the marks, the names and what was done before. Work on a thing marked `restraint` or `battery` goes in while the battery is disconnected, unplugging and plugging in alike; for `restraint` a step with a `wait` comes between. What cuts the battery off is known by its name (negative lead, isolator, battery switch), or says `isolates = [\"battery\"]`; `isolates` works for `high-voltage`, `mains` and `gas` as well. A lead that is off before work starts has `open_at_start`; a guide that never touches the battery may say in `before` that it is disconnected. The negative pole goes off first and on last. A fuse goes in after all that its `[[circuit]]` names in `through`, and with the battery still off; behind an open place of `through` nothing is live.",
                    "Before a panel is drilled or cut somebody has looked behind it: `look_behind` with the panel, `inspect` of the panel or of what lies behind it by its name or marks, or a trim or lining off that the panel is `behind`.",
                    "What is marked `hot` is opened after a `wait` of ten minutes or more or a measured temperature; what is marked `pressure`, `gas` or `refrigerant` after `release`, `drain` or a measured pressure. After the engine ran it counts anew. A line that was capped is uncapped before it is connected.",
                    "`start` and `stop` let the engine run, `road_test` drives the vehicle; a heading or a sentence that begins so counts too: Start the engine. Drive the van. Before the engine runs, what was drained is filled, and what carries fuel, gas, pressure or a fluid is closed; before the drive every level is checked that is checked at all, and the vehicle stands on its wheels. What says `from_below = true` is worked on while the vehicle is raised.",
                ],
            ),
            section(
                "Vehicles that differ",
                &[
                    "An `[[option]]` is a difference between vehicles. `when` makes a step, an operation, a caution, a part, hardware, an item or a connector depend on one: `when = \"heated-seat\"`, `when = \"not heated-seat\"`, or a list of which all must hold. Options with the same word in `one_of` exclude each other, and one of them always holds; `not_with` names options that cannot occur together.",
                    "Everything above is looked at for every combination that can occur, and a finding names the vehicles it is about: on vehicles with Heated seat. A thing with a `when` may only be worked on by vehicles that have it: give the operation the same `when`.",
                ],
            ),
        ],
    }
}

fn untold_chapter() -> Chapter {
    let mut keys: Vec<String> = Vec::new();
    for key in KEYS.iter().filter(|key| may_be_untold(key)) {
        let name = format!("`{}`", key.name);
        if !keys.contains(&name) {
            keys.push(name);
        }
    }
    Chapter {
        file: "untold".to_owned(),
        title: "What nobody knows yet".to_owned(),
        lead: "A count, a value, an order or a side that nobody knows is asked for, never made up: a blank on paper, a question in a list, a hold on the release.".to_owned(),
        group: "The format".to_owned(),
        sections: vec![
            Section {
                title: "untold".to_owned(),
                paragraphs: vec![
                    "Write `untold` in the place of the value, in quotation marks, and behind a colon who can answer and where: `supplier`, `vehicle` (the vehicle in the bay, or its maker’s instructions) or `shop`, then a comma and a few words.".to_owned(),
                    "Of fasteners that an operation names, the count is untold: `hardware = \"untold x rail-nut: vehicle, count them\"`.".to_owned(),
                    "Pages and sheets print a blank with whom to ask; counts that depend on it are not judged. The finding `fact-untold` holds the guide, and cannot be accepted or weighed away.".to_owned(),
                    format!("These keys can be untold: {}.", keys.join(", ")),
                ],
                example: Some("[[hardware]]\nid = \"ladder-bolt\"\nname = \"Ladder bolt\"\nthread = \"M8\"\nlength = \"untold: supplier\"\nsupplied = \"untold: supplier, fitting sheet page 4\"\n".to_owned()),
                ..Section::default()
            },
            Section {
                title: "unsure".to_owned(),
                paragraphs: paragraphs(&[
                    "A value that was only heard, or that somebody doubts, keeps its text and has `unsure` behind it: `torque = \"45 N·m, unsure: supplier, heard by telephone\"`, `supplied = \"4 unsure\"`. It is read and checked like any other, pages print it as unsure, and `fact-unsure` asks for it.",
                ]),
                ..Section::default()
            },
            Section {
                title: "The list of questions".to_owned(),
                paragraphs: paragraphs(&[
                    "`bayleaf review --as questions` lists what nobody knows in all guides, grouped by who can answer, each with its place in the file; `--as questions-json` is the same for programs, and `bayleaf print GUIDE --sheet questions` a sheet with room for the answers. A draft shows its questions on its page.",
                    "The list has also what a guide leaves open in silence: hardware that is done up with no torque, parts and hardware of which nothing says how many are supplied, connectors whose cavities or side are not told.",
                ]),
                ..Section::default()
            },
        ],
    }
}

fn draft_chapter() -> Chapter {
    let section = |title: &str, texts: &[&str]| Section { title: title.to_owned(), paragraphs: paragraphs(texts), ..Section::default() };
    Chapter {
        file: "draft".to_owned(),
        title: "From a talk to a draft".to_owned(),
        lead: "Whoever knows the job has often talked it through already, on camera or into a telephone, or has the supplier’s text beside the bench. `bayleaf draft` writes down what was said as the first draft of a guide; what was not said is left out, and the review tells it.".to_owned(),
        group: "The format".to_owned(),
        sections: vec![
            section(
                "What it reads",
                &[
                    "`bayleaf draft awning.vtt --to guides/awning-rail/guide.md` reads subtitles (WebVTT or SRT), dictated notes or plain instructions, as text or Markdown, with times such as `[12:40]` or without, in English; `-` reads standard input. A guide that is there is never touched.",
                    "From the sentences come operations with their things, counts and sizes; values in figures and in words, also ranges and fractions; parts from the kit, what is kept and thrown away, options, connectors with their wires, and how long the job took. A text that tells no work on a vehicle is refused, and nothing is written.",
                    "Speech is read by rules and tables, not understood: expect some operations to be missing and some to be wrong. Every line of the draft wants a look before it stays.",
                ],
            ),
            section(
                "What it writes",
                &[
                    "Each step has `at`, the moment at which it begins, and `heard`, the words that its operations come from; each value has the talk as its source, with moment and words. The comments over definitions say where each thing was named. `heard` is for the author alone and is not published; take it out when the step is settled.",
                    "What is doubtful stands in `unsure`: a word that was probably misheard, a thing that could be one of two, a value that stands elsewhere, a caution to be written, something taken off of which nobody says that it goes back. Each line is held by `heard-unsure` until it is settled and taken out. A value with a doubt has `unsure` behind it.",
                    "Nothing is made up: a count that was not said is `untold`, a torque that was not said is missing, and the review says so.",
                    "The command ends with what the author takes back to the bench: fasteners done up without a torque, things opened and never closed, words misheard, counts that do not add up, cautions missing. `--ask questions.pdf` writes all questions as a sheet, each with its moment.",
                ],
            ),
            section(
                "A second text beside it",
                &[
                    "`--against sheet.md` reads the supplier’s sheet too and lists what differs: torques and other values, order, work that only one of the two tells. Each difference becomes a line of `unsure`, to be settled as a departure with its reason.",
                ],
            ),
            section(
                "Words of the shop",
                &[
                    "Verbs, things and misheard words are data. A shop adds its own in `guides/words.txt`, in the form of the built-in ones: sections `[verb remove]` with lines such as `whip ~ off`, `[noun fastener]` with names and commas between, `[misheard]` with lines such as `gromit = grommet`.",
                ],
            ),
            section(
                "The video",
                &[
                    "`video` in the guide block is the address of a video, or the name of an mp4, m4v or webm file beside the guide. Steps with `at` then lead to their moment in it, on the page, in the bay view and on checklists; sheets as PDF name the moment. A link is followed when somebody taps it, and nothing is loaded before. A file beside the guide plays on the page, with the steps as its chapters.",
                    "Publishing writes `chapters.vtt` (WebVTT) and `chapters.txt`, a list for the description of the video, beside the page.",
                ],
            ),
        ],
    }
}

fn reports_chapter() -> Chapter {
    let mut sections = vec![
        Section {
            title: "Four forms".to_owned(),
            paragraphs: paragraphs(&[
                "`bayleaf review` reports on the terminal. `--as` chooses another form and `--to FILE` puts it into a file, whole or not at all: `bayleaf review --as page --to findings.html`.",
                "`text` is for people at the terminal. `json` is for programs; its fields are below. `sarif` is SARIF 2.1.0 (OASIS), which code hosts and editors show beside the changed lines: a hold is an error there, a query a warning, a remark a note, and what was accepted is suppressed with its reason. `page` is one HTML file for whoever reviews: every source with its findings under their lines. It opens from the disk, needs no network, and is never part of the site.",
                "Paths in these files start at the folder that holds `guides/`. No date and no name of a machine is in them: the same guides give the same bytes.",
            ]),
            ..Section::default()
        },
        Section {
            title: "Repairs".to_owned(),
            paragraphs: paragraphs(&[
                "Some findings come with a repair. It is certain where only one thing can have been meant and no value changes: a key that is one slip away from just one known key, a decimal comma, a closing line of `+++`, a typed value that the step's own spec has, an operation that one sentence of its step tells. `bayleaf review --mend` makes the certain repairs in the guides, says how many in which file, and reports what is left.",
                "All other repairs are guesses, such as an id that resembles another. They are shown and never made: a bolt that is mistaken for its neighbour gets the wrong torque.",
            ]),
            ..Section::default()
        },
    ];
    let objects = json::objects().into_iter().chain(questions::objects()).collect::<Vec<_>>();
    sections.extend(described::rows(&objects).into_iter().map(|(title, fields)| Section {
        title: format!("JSON: {}", title.to_lowercase()),
        fields,
        ..Section::default()
    }));
    Chapter {
        file: "reports".to_owned(),
        title: "Reports".to_owned(),
        lead: "What the review can write, for people and for programs, and which repairs it makes.".to_owned(),
        group: "Reports".to_owned(),
        sections,
    }
}

fn rule_chapter(rule: &Rule) -> Chapter {
    let section = |title: &str, text: &str| Section { title: title.to_owned(), paragraphs: vec![text.to_owned()], ..Section::default() };
    let mut sections = vec![
        section("Why it matters", rule.text.why),
        section("How to mend it", rule.text.mend),
        section("Weight", &weight(rule)),
        section("Basis", rule.text.basis),
    ];
    for (title, example) in [("With the fault", rule.text.bad), ("Without it", rule.text.good)] {
        if !example.is_empty() {
            sections.push(Section { title: title.to_owned(), example: Some(example.to_owned()), ..Section::default() });
        }
    }
    Chapter {
        file: rule.name.to_string(),
        title: rule.name.to_string(),
        lead: rule.text.summary.to_owned(),
        group: rule.family.title().to_owned(),
        sections,
    }
}

/// What a finding of the rule does.
pub fn weight(rule: &Rule) -> String {
    let effect = match rule.severity {
        crate::finding::Severity::Hold => "hold: the guide is kept out of the site",
        crate::finding::Severity::Query => "query: mend it, or accept it with a reason",
        crate::finding::Severity::Remark => "remark: worth a look",
    };
    if rule.can_be_accepted() { format!("A {effect}.") } else { format!("A {effect}. It cannot be accepted.") }
}
