//! Orders that look like a danger and are none: the rule that is named must stay silent.

use super::Edit::{self, After, Head, New, Says, Without, Words};

/// Name, the rule that must not speak, and the changes.
pub(super) const NEAR: &[(&str, &str, &[Edit])] = &[
    (
        "both of two batteries off",
        "not-isolated",
        &[
            Head("name = \"Battery negative lead\"", "name = \"Negative lead of the left battery\""),
            Head(
                "[[item]]\nid = \"vehicle\"",
                "[[item]]\nid = \"right\"\nname = \"Negative lead of the right battery\"\nmarks = [\"battery\"]\n\n[[item]]\nid = \"vehicle\"",
            ),
            Without("plus-off"),
            Without("plus-on"),
            New("right-on", "do = [{ connect = \"right\" }]", "airbag-on"),
            New("right-off", "do = [{ disconnect = \"right\" }]", "cool"),
        ],
    ),
    (
        "the roof drilled after a look behind it",
        "drilled-blind",
        &[
            Head(
                "[[option]]",
                "[[item]]\nid = \"roof\"\nname = \"Roof skin\"\nmarks = [\"cutting\"]\nstays = \"the hole carries the aerial\"\n\n[[item]]\nid = \"under\"\nname = \"Inside of the roof\"\n\n[[option]]",
            ),
            New("seen", "do = [{ inspect = \"under\" }]", "look"),
            New("roof-drill", "do = [{ drill = \"roof\" }]", "seen"),
        ],
    ),
    (
        "the roof drilled after a look behind nothing that is named",
        "drilled-blind",
        &[
            Head(
                "[[option]]",
                "[[item]]\nid = \"roof\"\nname = \"Roof skin\"\nmarks = [\"cutting\"]\nstays = \"the hole carries the aerial\"\n\n[[item]]\nid = \"under\"\nname = \"Wiring behind the lining\"\n\n[[option]]",
            ),
            New("seen", "do = [{ inspect = \"under\" }]", "look"),
            New("roof-drill", "do = [{ drill = \"roof\" }]", "seen"),
        ],
    ),
    (
        "the cable left loose for one vehicle and tightened behind the fuse for the other",
        "fuse-early",
        &[
            Says("cable-in", "do = [{ fit = \"cable\" }]\nwhen = \"not seat-airbag\""),
            New("cable-loose", "do = [{ fit = \"cable\", by_hand = true }]\nwhen = \"seat-airbag\"", "cable-in"),
            New("cable-again", "do = [{ tighten = \"cable\" }]\nwhen = \"not seat-airbag\"", "fuse-in"),
        ],
    ),
    (
        "a thing behind the undertray that is reached from above",
        "not-raised",
        &[
            Head("name = \"Rubber mat\"", "name = \"Rubber mat\"\nbehind = [\"undertray\"]\nfrom_below = false"),
            New("down", "do = [{ lower = \"vehicle\" }]", "tray-off"),
            New("mat-off", "do = [{ remove = \"mat\" }]", "down"),
            New("up", "do = [{ raise = \"vehicle\" }]", "mat-off"),
            New("mat-on", "do = [{ fit = \"mat\" }]", "up"),
        ],
    ),
    (
        "the undertray looked at on the bench",
        "not-raised",
        &[
            New("down", "do = [{ lower = \"vehicle\" }]", "tray-off"),
            New("bench", "do = [{ inspect = \"undertray\" }]", "down"),
            New("up", "do = [{ raise = \"vehicle\" }]", "bench"),
        ],
    ),
    ("the engine cools by the words of a step", "not-released", &[Words("cool", "Let the engine cool.")]),
    (
        "a thing that the undertray and a cover above hide, on a lowered vehicle",
        "not-raised",
        &[
            Head("name = \"Rubber mat\"", "name = \"Rubber mat\"\nbehind = [\"undertray\", \"dipstick\"]"),
            New("down", "do = [{ lower = \"vehicle\" }]", "tray-off"),
            New("mat-off", "do = [{ remove = \"dipstick\" }, { remove = \"mat\" }]", "down"),
            New("up", "do = [{ raise = \"vehicle\" }]", "mat-off"),
            New("mat-on", "do = [{ fit = \"mat\" }, { fit = \"dipstick\" }]", "up"),
        ],
    ),
    (
        "a thing behind the undertray, out and in on the raised vehicle",
        "not-raised",
        &[
            Head("name = \"Rubber mat\"", "name = \"Rubber mat\"\nbehind = [\"undertray\"]"),
            New("mat-off", "do = [{ remove = \"mat\" }]", "tray-off"),
            New("mat-on", "do = [{ fit = \"mat\" }]", "drill"),
        ],
    ),
    (
        "a thing behind a mat, on a vehicle that stands",
        "not-raised",
        &[
            Head("name = \"Dipstick of the engine\"", "name = \"Dipstick of the engine\"\nbehind = [\"mat\"]"),
            New("mat-off", "do = [{ remove = \"mat\" }]", "lower"),
            New("stick-off", "do = [{ remove = \"dipstick\" }, { fit = \"dipstick\" }]", "mat-off"),
            New("mat-on", "do = [{ fit = \"mat\" }]", "stick-off"),
        ],
    ),
    ("the airbag plugged in right before the battery", "not-isolated", &[After("airbag-on", "plus-on")]),
    (
        "a connector without marks plugged in live",
        "not-isolated",
        &[New("lamp", "do = [{ disconnect = \"lamp\" }, { connect = \"lamp\" }]", "battery-on")],
    ),
    ("the airbag looked at live", "not-isolated", &[New("look-at", "do = [{ inspect = \"airbag\" }, { test = \"airbag\" }]", "run")]),
    (
        "the wait in a step of its own",
        "not-isolated",
        &[
            Says("isolate", "do = [{ disconnect = \"battery-negative\" }]"),
            New("wait", "wait = \"3 min\"\nspecs = [\"restraint-wait\"]", "isolate"),
        ],
    ),
    (
        "the battery off before the job",
        "not-isolated",
        &[
            Head(
                "id = \"battery-negative\"\nname = \"Battery negative lead\"",
                "id = \"battery-negative\"\nname = \"Battery negative lead\"\nopen_at_start = true",
            ),
            Without("isolate"),
        ],
    ),
    (
        "an isolator by its key",
        "not-isolated",
        &[
            Head(
                "id = \"battery-negative\"\nname = \"Battery negative lead\"\nmarks = [\"battery\"]",
                "id = \"battery-negative\"\nname = \"Key of the cut-off\"\nisolates = [\"battery\"]",
            ),
            Says("isolate", "do = [{ switch_off = \"battery-negative\" }]\nwait = \"3 min\""),
            Says("battery-on", "do = [{ switch_on = \"battery-negative\" }]"),
        ],
    ),
    (
        "a circuit that is on no source yet",
        "not-isolated",
        &[
            Head(
                "[[option]]",
                "[[circuit]]\nid = \"main\"\nname = \"Main\"\nwire = \"1.5 mm²\"\ncurrent = \"8 A\"\nlength = \"1 m\"\nfuse = \"10 A\"\nsource = \"practice\"\nthrough = [\"fuse\", \"cable\"]\n\n[[option]]",
            ),
            After("cable-in", "cool"),
        ],
    ),
    (
        "a mains socket worked on with the shore plug out",
        "not-isolated",
        &[
            Head(
                "[[option]]",
                "[[item]]\nid = \"shore\"\nname = \"Shore plug\"\nisolates = [\"mains\"]\n\n[[item]]\nid = \"socket\"\nname = \"Mains socket\"\nmarks = [\"mains\"]\n\n[[option]]",
            ),
            Head("\"fuel\"]\n+++", "\"fuel\", \"mains\"]\n+++"),
            New("shore-out", "do = [{ disconnect = \"shore\" }]", "cool"),
            New("socket-off", "do = [{ remove = \"socket\" }, { fit = \"socket\" }]", "shore-out"),
            New("shore-in", "do = [{ connect = \"shore\" }]", "socket-off"),
        ],
    ),
    ("the fuse right after the cable", "fuse-early", &[After("fuse-in", "cable-in")]),
    ("the fuse before things of no circuit", "fuse-early", &[After("fuse-in", "hose-on")]),
    (
        "the fuse in again after the cable",
        "fuse-early",
        &[New("fuse-out", "do = [{ remove = \"fuse\" }, { tighten = \"cable\" }, { fit = \"fuse\" }]", "fuse-in")],
    ),
    ("inspected instead of looked behind", "drilled-blind", &[Says("look", "do = [{ inspect = \"floor\" }]")]),
    ("what a drill must not meet is inspected", "drilled-blind", &[Says("look", "do = [{ inspect = \"fuel-line\" }]")]),
    ("looked at long before", "drilled-blind", &[After("look", "cool")]),
    (
        "a carpet cut",
        "drilled-blind",
        &[
            Without("look"),
            Says("drill", "do = [{ cut = \"mat\" }]"),
            Head("stays = \"the hole carries the exhaust of the heater\"", "note = \"steel\""),
        ],
    ),
    (
        "the panel off the vehicle",
        "drilled-blind",
        &[Says("look", "do = [{ remove = \"floor\" }]"), New("floor-on", "do = [{ fit = \"floor\" }]", "drill")],
    ),
    ("the temperature measured", "not-released", &[Says("cool", "do = [{ measure = \"hose\", specs = [\"safe\"] }]")]),
    (
        "a cold engine before work",
        "not-released",
        &[Without("cool"), Head("final_check", "before = [\"The engine is cold\"]\nfinal_check")],
    ),
    ("the pressure measured", "not-released", &[Says("release", "do = [{ measure = \"rail\", specs = [\"rest-pressure\"] }]")]),
    ("the ignition on is no run", "not-released", &[Words("plus-off", "Before you start the engine, look at the hose.")]),
    ("the engine run after all is closed", "run-too-early", &[After("run", "level")]),
    ("the level checked again after the drive", "run-too-early", &[New("again", "do = [{ inspect = \"dipstick\" }]", "road")]),
    ("the van driven into the bay", "run-too-early", &[Words("isolate", "Drive the van into the bay.")]),
    ("looked at from below while raised", "not-raised", &[New("tray-look", "do = [{ inspect = \"undertray\" }]", "tray-off")]),
    (
        "raised twice",
        "not-raised",
        &[
            After("tray-on", "level"),
            New("raise-2", "do = [{ raise = \"vehicle\" }]", "level"),
            New("lower-2", "do = [{ lower = \"vehicle\" }]", "tray-on"),
        ],
    ),
    (
        "the plug out before",
        "still-capped",
        &[
            Says("hose-off", "do = [{ disconnect = \"hose\" }, { cap = \"hose\" }]"),
            Says("hose-on", "do = [{ uncap = \"hose\" }, { connect = \"hose\" }]"),
        ],
    ),
    (
        "the cap on after connecting",
        "still-capped",
        &[Says("hose-on", "do = [{ connect = \"hose\" }, { cap = \"hose\" }, { uncap = \"hose\" }]")],
    ),
    (
        "another line capped",
        "still-capped",
        &[
            Says("fuel-off", "do = [{ disconnect = \"fuel-line\" }, { cap = \"fuel-line\" }]"),
            Says("hose-on", "do = [{ connect = \"hose\" }, { uncap = \"fuel-line\" }]"),
            After("fuel-on", "hose-on"),
        ],
    ),
    ("tightened once more after the fuse", "fuse-early", &[New("again", "do = [{ tighten = \"cable\" }]", "fuse-in")]),
    (
        "the battery off by what was so before",
        "not-isolated",
        &[
            Without("isolate"),
            Without("battery-on"),
            Without("plus-off"),
            Without("plus-on"),
            Head("final_check", "before = [\"The battery has been disconnected for ten minutes\"]\nfinal_check"),
        ],
    ),
    (
        "a battery of the kit on no other",
        "not-isolated",
        &[
            Without("isolate"),
            Without("battery-on"),
            Without("plus-off"),
            Without("plus-on"),
            Without("airbag-off"),
            Without("airbag-on"),
            Head(
                "[[part]]\nid = \"cable\"",
                "[[part]]\nid = \"island-minus\"\nname = \"Negative lead of the lighting battery\"\nsupplied = 1\n\n[[part]]\nid = \"cable\"",
            ),
            New("island", "do = [{ fit = \"island-minus\" }]", "fuse-in"),
        ],
    ),
    (
        "the underside of a bed",
        "not-raised",
        &[Head("name = \"Rubber mat\"", "name = \"Underside of the bed\""), New("look-bed", "do = [{ inspect = \"mat\" }]", "lower")],
    ),
    (
        "washer fluid after the run",
        "run-too-early",
        &[
            Head("id = \"mat\"\nname = \"Rubber mat\"", "id = \"mat\"\nname = \"Washer fluid\""),
            New("mat-out", "do = [{ drain = \"mat\" }]", "cool"),
            New("mat-in", "do = [{ fill = \"mat\" }]", "run"),
        ],
    ),
    ("a mat from above", "not-raised", &[New("mat-off", "do = [{ remove = \"mat\" }, { fit = \"mat\" }]", "lower")]),
];
