//! The verbs of operations: the key each is written with and the word that pages print. What a verb
//! opens or closes is stated here as well, so that every reader of the model agrees on it.

macro_rules! verbs {
    ($($variant:ident $key:literal $word:literal $effect:expr, $doc:literal;)*) => {
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

verbs! {
    Remove "remove" "Remove" Opens(Verb::Fit), "Take off or out.";
    Fit "fit" "Fit" Closes(Verb::Remove), "Put on or in.";
    Disconnect "disconnect" "Disconnect" Opens(Verb::Connect), "Unplug or undo a connection.";
    Connect "connect" "Connect" Closes(Verb::Disconnect), "Plug in or make a connection.";
    Loosen "loosen" "Loosen" Opens(Verb::Tighten), "Slacken but leave in place.";
    Tighten "tighten" "Tighten" Closes(Verb::Loosen), "Tighten what is in place.";
    Drain "drain" "Drain" Opens(Verb::Fill), "Let a fluid out.";
    Fill "fill" "Fill" Closes(Verb::Drain), "Put a fluid in.";
    Cap "cap" "Cap" Opens(Verb::Uncap), "Close an open line or port.";
    Uncap "uncap" "Uncap" Closes(Verb::Cap), "Take the cap off.";
    Cover "cover" "Cover" Opens(Verb::Uncover), "Protect with a cover.";
    Uncover "uncover" "Uncover" Closes(Verb::Cover), "Take the cover off.";
    Raise "raise" "Raise" Opens(Verb::Lower), "Lift and support.";
    Lower "lower" "Lower" Closes(Verb::Raise), "Let down.";
    SwitchOff "switch_off" "Switch off" Opens(Verb::SwitchOn), "Switch off or make safe.";
    SwitchOn "switch_on" "Switch on" Closes(Verb::SwitchOff), "Switch on.";
    Mark "mark" "Mark" Nothing, "Mark a place or position.";
    Cut "cut" "Cut" Lasting, "Cut for good.";
    Drill "drill" "Drill" Lasting, "Drill for good.";
    Discard "discard" "Discard" Lasting, "Throw away.";
    Inspect "inspect" "Inspect" Nothing, "Look for damage or fit.";
    Measure "measure" "Measure" Nothing, "Measure and compare with a spec.";
    Clean "clean" "Clean" Nothing, "Clean.";
    Apply "apply" "Apply" Nothing, "Put on sealant, grease, tape or paint.";
    Route "route" "Route" Nothing, "Lay a cable or hose.";
    Test "test" "Test" Nothing, "Try the function.";
}

impl Verb {
    /// The verb written with `key`.
    pub fn from_key(key: &str) -> Option<Verb> {
        Verb::ALL.iter().copied().find(|verb| verb.key() == key)
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
