//! Verbs and things of the trade as data: the phrases that tell an operation, the classes of things, and words that are often misheard.
//! The data stands in `words.txt`; a shop adds lines of the same form.

use std::sync::LazyLock;

use foldhash::{HashMap, HashMapExt, HashSet};

use crate::guide::verb::Verb;

const WORDS: &str = include_str!("words.txt");

/// How a verb stands in the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// `take`
    Base,
    /// `takes`
    Third,
    /// `taking`
    Ing,
    /// `took`, `taken`
    Past,
}

/// A phrase that tells an operation.
#[derive(Clone, Debug)]
pub struct Phrase {
    /// The operation.
    pub verb: Verb,
    /// Words right behind the first one.
    pub before: Vec<String>,
    /// The classes that the thing can be of; any where there are none.
    pub classes: Vec<String>,
    /// Words behind the thing, or in front of it.
    pub after: Vec<String>,
    /// Whether the thing stands before the verb.
    pub behind: bool,
}

impl Phrase {
    /// How much it says: the more, the sooner it is tried.
    fn weight(&self) -> usize {
        self.before.len() * 4 + self.after.len() * 3 + usize::from(!self.classes.is_empty()) * 2
    }
}

/// A misheard word.
#[derive(Clone, Debug)]
pub struct Misheard {
    /// The words as heard.
    pub heard: Vec<String>,
    /// The words as meant.
    pub meant: Vec<String>,
    /// Words of which one must be near; `number` is any figure.
    pub near: Vec<String>,
}

/// Everything that is known of words.
#[derive(Clone, Debug)]
pub struct Lexicon {
    phrases: HashMap<String, Vec<Phrase>>,
    forms: HashMap<String, Vec<(String, Form)>>,
    /// By the first word: whole names with their class, the longest first.
    names: HashMap<String, Vec<(Vec<String>, String)>>,
    misheard: HashMap<String, Vec<Misheard>>,
    lists: HashMap<String, HashSet<String>>,
}

/// The words of the trade, built in.
pub fn built_in() -> &'static Lexicon {
    static LEXICON: LazyLock<Lexicon> = LazyLock::new(|| {
        let mut lexicon = Lexicon {
            phrases: HashMap::new(),
            forms: HashMap::new(),
            names: HashMap::new(),
            misheard: HashMap::new(),
            lists: HashMap::new(),
        };
        // The tests read every line of it.
        let _ = lexicon.add(WORDS);
        lexicon
    });
    &LEXICON
}

enum Section {
    Verb(Verb, bool),
    Noun(String),
    Misheard,
    Words(String),
}

impl Lexicon {
    /// The built-in words with those of a shop. The error names the line.
    pub fn with(own: &str) -> Result<Lexicon, String> {
        let mut lexicon = built_in().clone();
        // What a shop says of a thing goes before what is built in.
        lexicon.add(own)?;
        Ok(lexicon)
    }

    fn add(&mut self, text: &str) -> Result<(), String> {
        let mut section: Option<Section> = None;
        for (at, line) in text.lines().enumerate() {
            let line = line.trim();
            let fault = |why: &str| Err(format!("line {}: {why}", at + 1));
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            if let Some(head) = line.strip_prefix('[') {
                let Some(head) = head.strip_suffix(']') else {
                    return fault("a section is written as [verb fit], [noun fastener] or [misheard]");
                };
                let words: Vec<&str> = head.split_whitespace().collect();
                section = Some(match words.as_slice() {
                    ["verb", key] | ["verb", key, "behind"] => match Verb::from_key(key) {
                        Some(verb) => Section::Verb(verb, words.len() == 3),
                        None => return fault(&format!("`{key}` is no verb of operations; bayleaf handbook lists them")),
                    },
                    ["noun", class] => Section::Noun((*class).to_owned()),
                    ["misheard"] => Section::Misheard,
                    ["words", list] => Section::Words((*list).to_owned()),
                    _ => return fault("a section is written as [verb fit], [verb fit behind], [noun fastener] or [misheard]"),
                });
                continue;
            }
            match &section {
                None => return fault("a section such as [noun fastener] has to stand above it"),
                Some(Section::Verb(verb, behind)) => match phrase(line, *verb, *behind) {
                    Some((first, phrase)) => self.add_phrase(&first, phrase),
                    None => return fault("a verb is written with ~ or {class} for its thing, as in take ~ off"),
                },
                Some(Section::Noun(class)) => {
                    for name in line.split(',').map(str::trim).filter(|name| !name.is_empty()) {
                        self.add_name(&name.to_lowercase(), class);
                    }
                }
                Some(Section::Words(list)) => {
                    let of_list = self.lists.entry(list.clone()).or_default();
                    of_list.extend(line.split(',').map(|word| word.trim().to_lowercase()).filter(|word| !word.is_empty()));
                }
                Some(Section::Misheard) => match line.split_once('=') {
                    Some((heard, meant)) => {
                        let (meant, near) = meant.split_once(':').unwrap_or((meant, ""));
                        let words = |text: &str| text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>();
                        let near = near.trim().trim_start_matches("near").split(',').map(|word| word.trim().to_lowercase());
                        let entry =
                            Misheard { heard: words(heard), meant: words(meant), near: near.filter(|word| !word.is_empty()).collect() };
                        if entry.heard.is_empty() || entry.meant.is_empty() {
                            return fault("write what is heard, an equals sign, and what is meant");
                        }
                        let of_first = self.misheard.entry(entry.heard[0].clone()).or_default();
                        of_first.push(entry);
                        of_first.sort_by_key(|entry| std::cmp::Reverse(entry.heard.len()));
                    }
                    None => return fault("write what is heard, an equals sign, and what is meant"),
                },
            }
        }
        Ok(())
    }

    fn add_phrase(&mut self, first: &str, phrase: Phrase) {
        if !self.phrases.contains_key(first) {
            for (form, kind) in inflected(first) {
                let known = self.forms.entry(form).or_default();
                if !known.iter().any(|(lemma, of)| lemma == first && *of == kind) {
                    known.push((first.to_owned(), kind));
                }
            }
        }
        let of_first = self.phrases.entry(first.to_owned()).or_default();
        of_first.push(phrase);
        of_first.sort_by_key(|phrase| std::cmp::Reverse(phrase.weight()));
    }

    fn add_name(&mut self, name: &str, class: &str) {
        let words: Vec<String> = name.split_whitespace().map(str::to_owned).collect();
        let Some(first) = words.first().cloned() else { return };
        let of_first = self.names.entry(first).or_default();
        if !of_first.iter().any(|(known, _)| *known == words) {
            of_first.push((words, class.to_owned()));
            of_first.sort_by_key(|(words, _)| std::cmp::Reverse(words.len()));
        }
    }

    /// Whether a word is in a list of small words.
    pub fn is(&self, list: &str, word: &str) -> bool {
        self.lists.get(list).is_some_and(|words| words.contains(word))
    }

    /// The verbs that a word can be a form of.
    pub fn forms(&self, word: &str) -> &[(String, Form)] {
        self.forms.get(word).map_or(&[], Vec::as_slice)
    }

    /// The phrases that begin with a verb, those that say most first.
    pub fn phrases(&self, lemma: &str) -> &[Phrase] {
        self.phrases.get(lemma).map_or(&[], Vec::as_slice)
    }

    /// The class of the longest thing whose name begins at the words, and how many of them it takes. `word` gives the n-th of them.
    pub fn name<'w>(&self, word: &dyn Fn(usize) -> &'w str) -> Option<(&str, usize)> {
        let first = word(0);
        let singular = singular(first);
        let found = |key: &str| {
            self.names.get(key)?.iter().find_map(|(words, class)| {
                let last = words.len() - 1;
                let same = words.iter().enumerate().all(|(nth, name)| {
                    let said = word(nth);
                    said == name || (nth == last && self::singular(said) == *name)
                });
                same.then_some((class.as_str(), words.len()))
            })
        };
        let exact = found(first);
        let plural = if singular == first { None } else { found(&singular) };
        match (exact, plural) {
            (Some(exact), Some(plural)) => Some(if plural.1 > exact.1 { plural } else { exact }),
            (exact, plural) => exact.or(plural),
        }
    }

    /// The class of a thing by its words: of its whole name, else of its last words.
    pub fn class_of(&self, words: &[String]) -> Option<&str> {
        (0..words.len()).find_map(|from| {
            let word = |nth: usize| words.get(from + nth).map_or("", String::as_str);
            self.name(&word).filter(|(_, taken)| from + taken == words.len()).map(|(class, _)| class)
        })
    }

    /// The misheard words that begin with a word.
    pub fn misheard(&self, first: &str) -> &[Misheard] {
        self.misheard.get(first).map_or(&[], Vec::as_slice)
    }
}

/// The first word of a verb and its phrase.
fn phrase(line: &str, verb: Verb, behind: bool) -> Option<(String, Phrase)> {
    let mut words: Vec<&str> = line.split_whitespace().collect();
    let classes_of = |word: &str| -> Option<Vec<String>> {
        if word == "~" {
            return Some(Vec::new());
        }
        let inner = word.strip_prefix('{')?.strip_suffix('}')?;
        Some(inner.split('|').map(str::to_owned).collect())
    };
    if behind {
        let classes = words.first().and_then(|word| classes_of(word));
        if classes.is_some() {
            words.remove(0);
        }
        let first = (*words.first()?).to_owned();
        let after = words[1..].iter().map(|word| (*word).to_owned()).collect();
        return Some((first, Phrase { verb, before: Vec::new(), classes: classes.unwrap_or_default(), after, behind }));
    }
    let slot = words.iter().position(|word| classes_of(word).is_some())?;
    if slot == 0 {
        return None;
    }
    let owned = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    let classes = classes_of(words[slot])?;
    Some((words[0].to_owned(), Phrase { verb, before: owned(&words[1..slot]), classes, after: owned(&words[slot + 1..]), behind }))
}

/// The forms of a verb that do not follow the rules.
const IRREGULAR: &[(&str, &[&str])] = &[
    ("take", &["took", "taken"]),
    ("put", &["put"]),
    ("cut", &["cut"]),
    ("get", &["got", "gotten"]),
    ("run", &["ran", "run"]),
    ("undo", &["undid", "undone"]),
    ("do", &["did", "done"]),
    ("draw", &["drew", "drawn"]),
    ("withdraw", &["withdrew", "withdrawn"]),
    ("slide", &["slid"]),
    ("stick", &["stuck"]),
    ("set", &["set"]),
    ("fit", &["fitted", "fit"]),
    ("refit", &["refitted"]),
    ("wind", &["wound"]),
    ("spin", &["spun"]),
    ("hang", &["hung"]),
    ("go", &["went", "gone"]),
    ("come", &["came", "come"]),
    ("drive", &["drove", "driven"]),
    ("throw", &["threw", "thrown"]),
    ("lay", &["laid"]),
    ("feed", &["fed"]),
    ("bring", &["brought"]),
    ("lead", &["led"]),
    ("let", &["let"]),
    ("have", &["had"]),
    ("sit", &["sat"]),
    ("blow", &["blew", "blown"]),
    ("shut", &["shut"]),
    ("sling", &["slung"]),
    ("string", &["strung"]),
    ("see", &["saw", "seen"]),
    ("feel", &["felt"]),
    ("bleed", &["bled"]),
    ("sweep", &["swept"]),
    ("split", &["split"]),
    ("spread", &["spread"]),
    ("saw", &["sawed", "sawn"]),
];

/// All forms of a verb.
fn inflected(lemma: &str) -> Vec<(String, Form)> {
    let mut forms = vec![(lemma.to_owned(), Form::Base)];
    let consonant = |c: char| !matches!(c, 'a' | 'e' | 'i' | 'o' | 'u');
    let y = lemma.ends_with('y') && lemma.chars().rev().nth(1).is_some_and(consonant);
    let third = if y {
        format!("{}ies", &lemma[..lemma.len() - 1])
    } else if lemma.ends_with(['s', 'x', 'z', 'o']) || lemma.ends_with("sh") || lemma.ends_with("ch") {
        format!("{lemma}es")
    } else {
        format!("{lemma}s")
    };
    forms.push((third, Form::Third));
    let mut back = lemma.chars().rev();
    let tail = (back.next(), back.next(), back.next());
    let doubles = match tail {
        (Some(last), Some(middle), Some(first)) => {
            let vowels = lemma.chars().filter(|c| !consonant(*c)).count();
            let prefixed = ["un", "re", "dis"].iter().any(|prefix| lemma.starts_with(prefix)) && vowels == 2;
            consonant(last)
                && !matches!(last, 'w' | 'x' | 'y')
                && !consonant(middle)
                && (consonant(first) || first == 'u')
                && (vowels == 1 || prefixed || first == 'u')
        }
        _ => false,
    };
    let silent = lemma.ends_with('e') && !lemma.ends_with("ee");
    let ing = match (silent, doubles, lemma.chars().next_back()) {
        (true, ..) if lemma.ends_with("ie") => format!("{}ying", &lemma[..lemma.len() - 2]),
        (true, ..) => format!("{}ing", &lemma[..lemma.len() - 1]),
        (_, true, Some(last)) => format!("{lemma}{last}ing"),
        _ => format!("{lemma}ing"),
    };
    forms.push((ing, Form::Ing));
    match IRREGULAR.iter().find(|(of, _)| *of == lemma) {
        Some((_, past)) => forms.extend(past.iter().map(|word| ((*word).to_owned(), Form::Past))),
        None => {
            let past = match (silent, doubles, lemma.chars().next_back()) {
                _ if y => format!("{}ied", &lemma[..lemma.len() - 1]),
                (true, ..) => format!("{lemma}d"),
                (_, true, Some(last)) => format!("{lemma}{last}ed"),
                _ => format!("{lemma}ed"),
            };
            forms.push((past, Form::Past));
        }
    }
    forms
}

/// A noun without the ending of its plural.
pub fn singular(word: &str) -> String {
    const IRREGULAR_NOUNS: &[(&str, &str)] = &[
        ("feet", "foot"),
        ("knives", "knife"),
        ("halves", "half"),
        ("batteries", "battery"),
        ("bellows", "bellows"),
        ("pliers", "pliers"),
        ("glass", "glass"),
        ("chassis", "chassis"),
        ("canvas", "canvas"),
        ("gas", "gas"),
        ("bus", "bus"),
        ("brass", "brass"),
        ("gasses", "gas"),
        ("goggles", "goggles"),
        ("glasses", "glasses"),
        ("screws", "screw"),
        ("lens", "lens"),
        ("axis", "axis"),
        ("bolsters", "bolster"),
        ("positive", "positive"),
        ("mains", "mains"),
    ];
    if let Some((_, one)) = IRREGULAR_NOUNS.iter().find(|(many, _)| *many == word) {
        return (*one).to_owned();
    }
    if let Some(stem) = word.strip_suffix("ies").filter(|stem| stem.len() > 2) {
        return format!("{stem}y");
    }
    for ending in ["sses", "shes", "ches", "xes"] {
        if let Some(stem) = word.strip_suffix(ending) {
            return format!("{stem}{}", &ending[..ending.len() - 2]);
        }
    }
    match word.strip_suffix('s') {
        Some(stem) if !stem.ends_with(['s', 'u', 'i']) && stem.len() > 2 => stem.to_owned(),
        _ => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_of_the_words_is_read() {
        let mut lexicon = Lexicon {
            phrases: HashMap::new(),
            forms: HashMap::new(),
            names: HashMap::new(),
            misheard: HashMap::new(),
            lists: HashMap::new(),
        };
        lexicon.add(WORDS).unwrap();
        assert!(lexicon.phrases.len() > 100 && lexicon.names.len() > 300);
    }

    #[test]
    fn verbs_have_their_forms() {
        let form =
            |word: &str| built_in().forms(word).iter().map(|(lemma, form)| format!("{lemma} {form:?}")).collect::<Vec<_>>().join(", ");
        for (word, expected) in [
            ("taking", "take Ing"),
            ("unplugged", "unplug Past"),
            ("unclipping", "unclip Ing"),
            ("undone", "undo Past"),
            ("torqued", "torque Past"),
            ("tightening", "tighten Ing"),
            ("pries", "pry Third"),
            ("cleaned", "clean Past"),
            ("sealing", "seal Ing"),
            ("drilling", "drill Ing"),
            ("went", "go Past"),
            ("looking", "look Ing"),
            ("tying", "tie Ing"),
        ] {
            assert_eq!(form(word), expected, "{word}");
        }
    }

    #[test]
    fn things_have_classes_and_a_shop_adds_its_own() {
        let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(built_in().class_of(&words("four rail bolts")), Some("fastener"));
        assert_eq!(built_in().class_of(&words("hose clips")), Some("fastener"));
        assert_eq!(built_in().class_of(&words("trim clip")), Some("clip"));
        let own = Lexicon::with("[noun fastener]\nzeppelin\n[verb fit]\nwhack ~ in\n").unwrap();
        assert_eq!(own.class_of(&words("zeppelins")), Some("fastener"));
        assert_eq!(own.phrases("whack")[0].verb, Verb::Fit);
        assert_eq!(Lexicon::with("[verb fly]\n").unwrap_err(), "line 1: `fly` is no verb of operations; bayleaf handbook lists them");
        assert!(Lexicon::with("bolt\n").unwrap_err().starts_with("line 1: a section"));
        assert!(Lexicon::with("[misheard]\nfoo\n").is_err() && Lexicon::with("[verb fit]\nwhack\n").is_err());
    }
}
