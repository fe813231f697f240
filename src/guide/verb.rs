//! The verbs of operations: the key each is written with and the word that pages print. What a verb
//! opens or closes is stated here as well, so that every reader of the model agrees on it.

macro_rules! verbs {
    ($($variant:ident $key:literal $word:literal $done:literal $effect:expr, $doc:literal;)*) => {
        /// What an operation does to its items.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Verb { $(#[doc = $doc] $variant,)* }

        impl Verb {
            /// Every verb, in the order of the table of keys.
            pub const ALL: &'static [Verb] = &[$(Verb::$variant,)*];

            /// The key in an operation.
            pub fn key(self) -> &'static str {
                match self { $(Verb::$variant => $key,)* }
            }

            /// The word on pages and sheets.
            pub fn word(self) -> &'static str {
                match self { $(Verb::$variant => $word,)* }
            }

            /// What was done, as messages say it: `is removed here`.
            pub fn done(self) -> &'static str {
                match self { $(Verb::$variant => $done,)* }
            }

            /// What the verb leaves behind.
            pub fn effect(self) -> Effect {
                use Effect::*;
                match self { $(Verb::$variant => $effect,)* }
            }
        }
    };
}

/// What an operation leaves behind for the rest of the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Opens something that the named verb closes.
    Opens(Verb),
    /// Closes what the named verb opened.
    Closes(Verb),
    /// Changes the vehicle for good.
    Lasting,
    /// Leaves nothing to close.
    Nothing,
}

/// What becomes of the hardware that an operation names, and of parts it acts on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moves {
    /// It goes onto the vehicle.
    On,
    /// It comes off the vehicle.
    Off,
    /// It stays in place, loose.
    Loosens,
    /// It stays in place, done up.
    Tightens,
    /// It is thrown away.
    Away,
    /// It stays as it is.
    Nothing,
}

verbs! {
    Remove "remove" "Remove" "removed" Opens(Verb::Fit), "Take off or out.";
    Fit "fit" "Fit" "fitted" Closes(Verb::Remove), "Put on or in.";
    Disconnect "disconnect" "Disconnect" "disconnected" Opens(Verb::Connect), "Unplug or undo a connection.";
    Connect "connect" "Connect" "connected" Closes(Verb::Disconnect), "Plug in or make a connection.";
    Loosen "loosen" "Loosen" "loosened" Opens(Verb::Tighten), "Slacken but leave in place.";
    Tighten "tighten" "Tighten" "tightened" Closes(Verb::Loosen), "Tighten what is in place.";
    Drain "drain" "Drain" "drained" Opens(Verb::Fill), "Let a fluid out.";
    Fill "fill" "Fill" "filled" Closes(Verb::Drain), "Put a fluid in.";
    Cap "cap" "Cap" "capped" Opens(Verb::Uncap), "Close an open line or port.";
    Uncap "uncap" "Uncap" "uncapped" Closes(Verb::Cap), "Take the cap off.";
    Cover "cover" "Cover" "covered" Opens(Verb::Uncover), "Protect with a cover.";
    Uncover "uncover" "Uncover" "uncovered" Closes(Verb::Cover), "Take the cover off.";
    Raise "raise" "Raise" "raised" Opens(Verb::Lower), "Lift and support.";
    Lower "lower" "Lower" "lowered" Closes(Verb::Raise), "Let down.";
    SwitchOff "switch_off" "Switch off" "switched off" Opens(Verb::SwitchOn), "Switch off or make safe.";
    SwitchOn "switch_on" "Switch on" "switched on" Closes(Verb::SwitchOff), "Switch on.";
    Start "start" "Start" "started" Opens(Verb::Stop), "Start and leave running.";
    Stop "stop" "Stop" "stopped" Closes(Verb::Start), "Stop what runs.";
    Release "release" "Release pressure of" "released" Nothing, "Let the pressure out.";
    Hold "hold" "Hold" "held" Opens(Verb::LetGo), "Hold in place or under tension: a spring in its compressor, a shaft by its pin.";
    LetGo "let_go" "Let go" "let go" Closes(Verb::Hold), "Let go what was held.";
    Unlock "unlock" "Unlock" "unlocked" Opens(Verb::Lock), "Open a lock, a tab or a latch.";
    Lock "lock" "Lock" "locked" Closes(Verb::Unlock), "Close a lock, a tab or a latch.";
    Pull "pull" "Pull" "pulled" Opens(Verb::Insert), "Pull a fuse or a relay out of its socket.";
    Insert "insert" "Insert" "inserted" Closes(Verb::Pull), "Put a fuse or a relay into its socket.";
    Transfer "transfer" "Move over" "moved over" Nothing, "Move over from the old part to the new one, which stands in `onto`: it comes off and goes on in one operation.";
    Bleed "bleed" "Bleed" "bled" Nothing, "Let the air out of a circuit.";
    TopUp "top_up" "Top up" "topped up" Nothing, "Fill up to the mark what was not drained.";
    Seal "seal" "Seal" "sealed" Nothing, "Seal a joint, a hole or a bare edge.";
    Lubricate "lubricate" "Lubricate" "lubricated" Nothing, "Oil or grease.";
    Programme "programme" "Programme" "programmed" Nothing, "Write data or coding into a control unit.";
    Calibrate "calibrate" "Calibrate" "calibrated" Nothing, "Set a sensor or a camera to its reference.";
    Mark "mark" "Mark" "marked" Nothing, "Mark a place or position.";
    Cut "cut" "Cut" "cut" Lasting, "Cut for good.";
    Drill "drill" "Drill" "drilled" Lasting, "Drill for good.";
    Discard "discard" "Discard" "thrown away" Lasting, "Throw away.";
    LookBehind "look_behind" "Look behind" "looked behind" Nothing, "Look for what lies behind a panel.";
    Inspect "inspect" "Inspect" "inspected" Nothing, "Look for damage or fit.";
    Measure "measure" "Measure" "measured" Nothing, "Measure and compare with a spec.";
    Clean "clean" "Clean" "cleaned" Nothing, "Clean.";
    Apply "apply" "Apply" "applied" Nothing, "Put on sealant, grease, tape or paint.";
    Route "route" "Route" "laid" Nothing, "Lay a cable or hose.";
    RoadTest "road_test" "Road-test" "road-tested" Nothing, "Drive and try.";
    Test "test" "Test" "tested" Nothing, "Try the function.";
}

impl Verb {
    /// The verb written with `key`.
    pub fn from_key(key: &str) -> Option<Verb> {
        Verb::ALL.iter().copied().find(|verb| verb.key() == key)
    }

    /// The verb that undoes this one; none where nothing does.
    pub fn inverse(self) -> Option<Verb> {
        match self.effect() {
            Effect::Opens(other) | Effect::Closes(other) => Some(other),
            Effect::Lasting | Effect::Nothing => None,
        }
    }

    /// Whether a thing is open in the way of this verb or of its inverse by whichever of the two comes first: a reservoir is uncapped and
    /// capped, a cut line capped and uncapped.
    pub fn first_opens(self) -> bool {
        matches!(self, Verb::Cap | Verb::Cover | Verb::SwitchOff | Verb::Unlock)
    }

    /// What becomes of hardware named with the verb.
    pub fn moves(self) -> Moves {
        match self {
            Verb::Fit
            | Verb::Connect
            | Verb::Fill
            | Verb::TopUp
            | Verb::Cap
            | Verb::Cover
            | Verb::Insert
            | Verb::Apply
            | Verb::Seal
            | Verb::Lubricate
            | Verb::Route => Moves::On,
            Verb::Remove | Verb::Disconnect | Verb::Drain | Verb::Uncap | Verb::Uncover | Verb::Pull => Moves::Off,
            Verb::Loosen => Moves::Loosens,
            Verb::Tighten => Moves::Tightens,
            Verb::Discard => Moves::Away,
            _ => Moves::Nothing,
        }
    }

    /// The marks that the work itself bears, whatever it is done to.
    pub fn marks(self) -> &'static [&'static str] {
        if matches!(self, Verb::Cut | Verb::Drill) { &["cutting"] } else { &[] }
    }

    /// Whether hands or a tool change something at the thing: a joint, a connection or its material.
    pub fn works_on(self) -> bool {
        self.does_up() || self.undoes() || matches!(self, Verb::Cut | Verb::Drill)
    }

    /// Whether the verb needs hands or a tool at the thing itself, so that nothing may be in front of it.
    pub fn needs_access(self) -> bool {
        !matches!(
            self,
            Verb::Raise
                | Verb::Lower
                | Verb::SwitchOff
                | Verb::SwitchOn
                | Verb::Start
                | Verb::Programme
                | Verb::Calibrate
                | Verb::Stop
                | Verb::LookBehind
                | Verb::Inspect
                | Verb::Measure
                | Verb::RoadTest
                | Verb::Test
                | Verb::Discard
        )
    }

    /// Whether a value named with the verb is read off and compared, so that page and sheet have a field for it. A value beside any other
    /// verb tells what is used or made.
    pub fn reads_off(self) -> bool {
        matches!(self, Verb::Inspect | Verb::Measure | Verb::RoadTest | Verb::Test)
    }

    /// Whether hardware named with the verb ends up done up, so that a torque is owed.
    pub fn does_up(self) -> bool {
        matches!(self, Verb::Fit | Verb::Tighten | Verb::Connect)
    }

    /// Whether hardware named with the verb comes undone.
    pub fn undoes(self) -> bool {
        matches!(self, Verb::Remove | Verb::Loosen | Verb::Disconnect)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_of_keys_has_exactly_these_verbs() {
        let keys: Vec<&str> = Verb::ALL.iter().map(|verb| verb.key()).collect();
        assert_eq!(keys, crate::guide::keys::VERBS);
        assert!(keys.iter().all(|key| Verb::from_key(key).is_some_and(|verb| verb.key() == *key)));
    }

    #[test]
    fn opening_and_closing_are_each_other_s_inverse() {
        for &verb in Verb::ALL {
            match verb.effect() {
                Effect::Opens(closing) => assert_eq!(closing.effect(), Effect::Closes(verb)),
                Effect::Closes(opening) => assert_eq!(opening.effect(), Effect::Opens(verb)),
                Effect::Lasting | Effect::Nothing => {}
            }
        }
    }
}
