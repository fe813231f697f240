//! Makes a shop of any size from a fixed seed, so that every run measures the same text. The words are
//! of the trade and invented; what is measured with them is left to the benches.

use std::fmt::Write as _;
use std::path::Path;

/// A small generator of numbers that is the same everywhere (Marsaglia's xorshift64*).
pub(crate) struct Numbers(u64);

impl Numbers {
    /// Starts from a seed that is not zero.
    pub(crate) fn new(seed: u64) -> Self {
        Numbers(seed.max(1))
    }

    /// A number below `limit`.
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_f491_4f6c_dd1d) >> 33) as usize % limit
    }

    fn of<'t>(&mut self, list: &[&'t str]) -> &'t str {
        list[self.below(list.len())]
    }
}

const PARTS: &[&str] = &["bracket", "base", "rail", "bearer", "plate", "cover", "duct", "tray", "mount", "frame", "clamp", "lever"];
const PLACES: &[&str] = &["left", "right", "front", "rear", "upper", "lower", "inner", "outer"];
const VERBS: &[&str] = &["Lift", "Turn", "Push", "Slide", "Guide", "Hold", "Set", "Draw", "Press", "Tilt"];
const ENDS: &[&str] = &[
    "until it rests on the stops",
    "clear of the loom",
    "towards the sill",
    "with the arrow to the front",
    "past the edge of the carpet",
    "so that both tongues engage",
    "into the slot of the bearer",
    "without touching the paint",
];
const NOTES: &[&str] = &[
    "If the clip is broken, replace it.",
    "If the thread is damaged, stop and tell the foreman.",
    "Keep the fasteners in the tray, sorted by place.",
    "Look at both edges before the next step.",
    "The loom lies behind the plate.",
];

/// The text of one guide with so many steps.
pub(crate) fn guide(number: usize, steps: usize) -> String {
    let mut n = Numbers::new(0x6261_796c_6561_6600 + number as u64);
    let mut text = String::with_capacity(steps * 850);
    let (part, place) = (n.of(PARTS), n.of(PLACES));
    let _ = write!(
        text,
        "+++\ntitle = \"Fit the {place} {part} number {number}\"\ndocument = \"TH-{number:05}\"\nrevision = \"B\"\nissued = 2026-09-14\nsystem = \"{}\"\nfits = [\"van-{}\"]\n\
         sources = {{ sheet = \"Invented sheet {number}\" }}\ntools = [\"torque-wrench\", \"sockets\"]\nfinal_check = [\"The {part} does not move by hand\"]\n",
        n.of(PARTS),
        n.below(8)
    );
    for bolt in 0..4 {
        let (size, torque, drive) = ([6, 8, 10, 12][bolt], [8, 20, 40, 70][bolt], [10, 13, 16, 18][bolt]);
        let _ = write!(
            text,
            "\n[[hardware]]\nid = \"bolt-{bolt}\"\nname = \"Flange bolt {bolt}\"\nthread = \"M{size}\"\nclass = \"8.8\"\ndrive = \"{drive} mm hex\"\non_vehicle = {}\n\
             \n[[spec]]\nid = \"bolt-{bolt}\"\nfor = \"bolt-{bolt}\"\ntorque = \"{torque} N·m\"\nsource = \"sheet\"\n",
            steps.max(5)
        );
    }
    for item in 0..steps.div_ceil(2) {
        let _ = write!(text, "\n[[item]]\nid = \"item-{item}\"\nname = \"{} {}\"\n", n.of(PLACES), n.of(PARTS));
    }
    text.push_str("+++\n\nWork from the driver's side. The values are invented.\n");
    // What a step takes off the next one puts back.
    let (mut bolt, mut count) = (0, 2);
    for step in 0..steps {
        if step % 10 == 0 {
            let _ = write!(text, "\n# {}\n", ["Strip down", "Fit", "Close up"][(step / 10) % 3]);
        }
        if step % 2 == 0 {
            (bolt, count) = (n.below(4), 2 + n.below(4));
        }
        let item = step / 2;
        let (verb, heading) = match step % 2 {
            1 => ("fit", "Put back"),
            _ if step + 1 == steps => ("inspect", "Look at"),
            _ => ("remove", "Take off"),
        };
        let how = match verb {
            "fit" => format!(", hardware = \"{count} x bolt-{bolt}\", torque = \"bolt-{bolt}\""),
            "remove" => format!(", hardware = \"{count} x bolt-{bolt}\", keep = true"),
            _ => String::new(),
        };
        let _ = write!(
            text,
            "\n## {heading} the {} {} ({})\n\n+++\nminutes = {}\ndo = [\n  {{ {verb} = \"item-{item}\"{how} }},\n]\n",
            n.of(PLACES),
            n.of(PARTS),
            step + 1,
            5 + n.below(20)
        );
        // One step in four warns and one in three checks, as in the demo guides.
        if n.below(3) == 0 {
            text.push_str("check = [\"The edges are flush on both sides\"]\n");
        }
        if n.below(4) == 0 {
            text.push_str(
                "\n[[caution]]\nsignal = \"caution\"\nhazard = \"The edge of the plate is sharp where it was cut.\"\nresult = \"Cut hands.\"\n\
                 avoid = \"Wear gloves, and keep the other hand clear of the edge.\"\n",
            );
        }
        text.push_str("+++\n\n");
        for _ in 0..5 + n.below(4) {
            let _ = write!(text, "{} the {} {} {}. ", n.of(VERBS), n.of(PLACES), n.of(PARTS), n.of(ENDS));
        }
        let _ = write!(text, "\n\n{} {}\n", n.of(NOTES), n.of(NOTES));
        if verb == "fit" {
            let _ = write!(text, "\nTighten [the bolts](hardware:bolt-{bolt}) crosswise to [](spec:bolt-{bolt}).\n");
        }
        if n.below(3) == 0 {
            text.push_str("\n- Left side first\n- Right side second\n- *Both* edges last\n");
        }
    }
    text
}

/// The shop file that the guides lean on.
pub(crate) fn shop() -> String {
    let mut text = String::from("name = \"Invented shop\"\nnotice = \"Everything here is invented, for measuring.\"\n");
    for van in 0..8 {
        let _ = write!(text, "\n[[vehicle]]\nid = \"van-{van}\"\nname = \"Invented van {van}\"\n");
    }
    text.push_str(
        "\n[[tool]]\nid = \"torque-wrench\"\nname = \"Torque wrench\"\nrange = \"5..200 N·m\"\n\n[[tool]]\nid = \"sockets\"\nname = \"Sockets\"\nsizes = [\"10 mm hex\", \"13 mm hex\", \"16 mm hex\", \"18 mm hex\"]\n",
    );
    text
}

/// Writes a whole shop below `folder`; gives the number of bytes of Markdown.
pub(crate) fn write_shop(folder: &Path, guides: usize, steps: usize) -> std::io::Result<usize> {
    std::fs::create_dir_all(folder.join("guides"))?;
    std::fs::write(folder.join("guides/shop.toml"), shop())?;
    let mut bytes = 0;
    for number in 0..guides {
        let text = guide(number, steps);
        bytes += text.len();
        std::fs::write(folder.join(format!("guides/guide-{number:05}.md")), text)?;
    }
    Ok(bytes)
}
