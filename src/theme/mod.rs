//! The theme: templates, styles and script, built in and overridable file by file from a shop's own
//! `themes/` folder; and what its templates get. The only user of the template engine.

mod built_in;
pub mod data;
pub mod deferral;
mod error;
pub mod fields;
pub mod units;
mod words;

use std::collections::BTreeMap;

use sha2::{Digest, Sha256};
use tera::{Context, Tera};

use crate::guide::language::Language;
use crate::near::nearest;
use crate::phrases;
pub use built_in::BUILT_IN;
use data::Assets;
pub use error::ThemeError;

/// A theme ready to render.
pub struct Theme {
    tera: Tera,
    /// Names of the published styles and scripts.
    pub assets: Assets,
    /// Their content by published path.
    pub files: BTreeMap<String, Vec<u8>>,
    /// Every text by its name in the theme.
    texts: BTreeMap<String, String>,
    /// Names of the shop's own files.
    own: BTreeMap<String, Vec<u8>>,
    /// The language of its words.
    pub language: Language,
    /// Files of the shop that are probably misnamed, each in a sentence.
    pub doubts: Vec<String>,
}

impl Theme {
    /// Puts the theme together; `own` are the shop's files, which take the place of built-in ones of the same name.
    /// Its words are those of `language`.
    pub fn new(own: &BTreeMap<String, Vec<u8>>, language: Language) -> Result<Self, ThemeError> {
        let mut texts: BTreeMap<String, String> = BUILT_IN.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
        let is_built_in = |name: &str| BUILT_IN.iter().any(|(known, _)| *known == name);
        let mut own_files = Vec::new();
        let mut doubts = Vec::new();
        for (name, bytes) in own {
            if !is_built_in(name) {
                if let Some(near) = nearest(name, BUILT_IN.iter().map(|(known, _)| *known)) {
                    doubts.push(format!("themes/{name} takes the place of no built-in file; did you mean `{near}`?"));
                }
                if !name.ends_with(".html") {
                    own_files.push((format!("assets/own/{name}"), bytes.clone()));
                    continue;
                }
            }
            let text = String::from_utf8(bytes.clone()).map_err(|cause| ThemeError::NotText { name: name.clone(), cause })?;
            texts.insert(name.clone(), text);
        }
        // Made, not written: the units are those of the review.
        texts.insert("units.js".to_owned(), units::script());
        let mut files = BTreeMap::new();
        let mut publish = |name: &str| {
            // A script goes out with those that it needs before it, so that one load brings all.
            let parts = in_order(name, &texts);
            let phrases = phrases_of(&parts, &texts, language);
            let parts = parts.iter().filter_map(|part| Some(lean(part, texts.get(part)?)));
            let text = phrases.into_iter().map(|phrases| lean("phrases.js", &phrases)).chain(parts).collect::<Vec<_>>().join("\n");
            let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
            // The content is part of the name, so that a browser never shows a new page with an old style.
            let hash: String = Sha256::digest(text.as_bytes()).iter().take(5).map(|byte| format!("{byte:02x}")).collect();
            let published = format!("{stem}.{hash}.{ending}");
            files.insert(format!("assets/{published}"), text.into_bytes());
            published
        };
        let assets = Assets {
            sheet_css: publish("sheet.css"),
            checklist_css: publish("checklist.css"),
            paper_css: publish("paper.css"),
            site_js: publish("site.js"),
            history_js: publish("history.js"),
            history_css: publish("history.css"),
            lists_css: publish("lists.css"),
            search_js: publish("search.js"),
            offline_js: publish("offline.js"),
            kept_js: publish("kept.js"),
            code_css: publish("code.css"),
            options_js: publish("options.js"),
            bay_css: publish("bay.css"),
            bay_js: publish("bay.js"),
        };
        // Its name must stay, and its place says which pages it may serve.
        files.insert("worker.js".to_owned(), texts.get("worker.js").cloned().unwrap_or_default().into_bytes());
        files.extend(own_files);
        // A script that a page carries in itself brings its phrases with it.
        if let Some(phrases) = phrases_of(&["findings.js".to_owned()], &texts, language) {
            texts.entry("findings.js".to_owned()).and_modify(|text| text.insert_str(0, &phrases));
        }
        let mut tera = Tera::default();
        words::teach(&mut tera, language.phrases());
        let templates = texts.iter().filter(|(name, _)| name.ends_with(".html")).map(|(name, text)| (name.as_str(), text.as_str()));
        tera.add_raw_templates(templates).map_err(|error| fault(error, own))?;
        let own = own.keys().map(|name| (name.clone(), Vec::new())).collect();
        Ok(Theme { tera, assets, files, texts, own, language, doubts })
    }

    /// Whether all its templates are the built-in ones.
    pub fn is_built_in(&self) -> bool {
        self.own.is_empty()
    }

    /// The text of a file of the theme, for a page that carries it in itself.
    pub fn text(&self, name: &str) -> &str {
        self.texts.get(name).map_or("", String::as_str)
    }

    /// Renders a template into `out`. What is given at first is kept from page to page by the caller.
    pub fn render(&self, template: &str, context: &Context, out: &mut Vec<u8>) -> Result<(), ThemeError> {
        self.tera.render_to(template, context, out).map_err(|error| fault(error, &self.own))
    }

    /// A page of one template that gets one piece of data under a name; one that does not say who comes first is refused.
    pub fn page(&self, template: &str, name: &str, data: &impl serde::Serialize, first: &str) -> Result<Vec<u8>, ThemeError> {
        let mut context = Context::new();
        context.insert_value(name.to_owned(), tera::Value::from_serializable(data));
        let mut bytes = Vec::new();
        self.render(template, &context, &mut bytes)?;
        deferral::demand(&bytes, first, template, self.is_built_in())?;
        Ok(bytes)
    }
}

/// The script that sets the phrases which these scripts ask for; none for styles and scripts that ask for none.
fn phrases_of(parts: &[String], texts: &BTreeMap<String, String>, language: Language) -> Option<String> {
    let scripts = parts.iter().filter(|part| part.ends_with(".js")).filter_map(|part| texts.get(part));
    let keys: Vec<&str> = scripts.flat_map(|text| phrases::asked(text)).collect();
    (!keys.is_empty()).then(|| phrases::script(language.phrases(), keys.into_iter()))
}

/// A script with those that it needs before it, each after those that it needs itself: a line `Needs: a.js, b.js` of its first comment says
/// which they are.
fn in_order(script: &str, texts: &BTreeMap<String, String>) -> Vec<String> {
    let mut order = Vec::new();
    // A script is passed once, so two that need each other come to an end too.
    let mut passed = vec![script.to_owned()];
    let mut open = vec![(script.to_owned(), needs(texts.get(script)))];
    while let Some((name, left)) = open.last_mut() {
        match left.pop() {
            Some(next) if passed.contains(&next) => {}
            Some(next) => {
                passed.push(next.clone());
                let own = needs(texts.get(&next));
                open.push((next, own));
            }
            None => {
                order.push(std::mem::take(name));
                open.pop();
            }
        }
    }
    order
}

/// The names of the scripts that a script needs, the first last.
fn needs(text: Option<&String>) -> Vec<String> {
    let comment = text.and_then(|text| text.split("*/").next()).unwrap_or_default();
    let line = comment.lines().find_map(|line| line.trim().strip_prefix("Needs: ")).unwrap_or_default();
    line.split(',').map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned).rev().collect()
}

/// A style or script without its comments and the space before its lines: the text with its words is in the project. Only comments that fill
/// whole lines are taken out, since what stands inside a line may be a string; and types, which no string holds. Lines are joined where
/// nothing can hang on their end: behind a comma, semicolon or opening brace, in a style behind a closing one, where no comment runs to the end of the line and no text to
/// the next.
fn lean(name: &str, text: &str) -> String {
    let mut lean = String::with_capacity(text.len());
    let mut inside = false;
    let joins = !text.contains('`');
    let ends: &[char] = if name.ends_with(".css") { &[',', ';', '{', '}'] } else { &[',', ';', '{'] };
    for line in text.lines().map(str::trim) {
        let untyped = without_types(line);
        let line = if inside || line.starts_with("/*") { line } else { untyped.as_str() };
        let line = if inside || line.starts_with("/*") {
            inside = !line.contains("*/");
            // What stands behind a comment is kept.
            line.split_once("*/").map_or("", |(_, behind)| behind.trim())
        } else {
            line
        };
        if line.is_empty() {
            continue;
        }
        lean.push_str(line);
        if !joins || line.contains("//") || !line.ends_with(ends) {
            lean.push('\n');
        }
    }
    lean
}

/// A line without the types inside of it, `/** @type {…} */` and a space.
fn without_types(line: &str) -> String {
    let mut out = String::with_capacity(line.len());
    let mut rest = line;
    while let Some((before, typed)) = rest.split_once("/** @type ") {
        let Some((_, behind)) = typed.split_once("*/") else { break };
        out.push_str(before);
        rest = behind.strip_prefix(' ').unwrap_or(behind);
    }
    out + rest
}

/// The engine's words with the place as a path from the folder of the shop, and with what was probably meant.
fn fault(cause: tera::Error, own: &BTreeMap<String, Vec<u8>>) -> ThemeError {
    let words = cause.to_string();
    let mut told = String::new();
    for line in words.trim_end().lines() {
        let place = line.trim_start().strip_prefix("--> ").and_then(|place| Some((place, place.split_once(':')?.0)));
        match place {
            Some((place, name)) if own.contains_key(name) => told.push_str(&format!(" --> themes/{place}")),
            Some((place, _)) => told.push_str(&format!(" --> {place} (built in)")),
            // The list of what there is may be long; the near one is told below.
            None => told.push_str(line.split(" Available fields: ").next().unwrap_or(line)),
        }
        told.push('\n');
    }
    for line in words.lines() {
        let meant = line.split('`').nth(1);
        let known: Vec<&str> = match line.split_once(" Available fields: ") {
            Some((_, fields)) => fields.split(", ").map(str::trim).collect(),
            None if line.contains("emplate `") => BUILT_IN.iter().map(|(name, _)| *name).chain(own.keys().map(String::as_str)).collect(),
            None => continue,
        };
        match meant.and_then(|meant| nearest(meant, known.iter().copied())) {
            Some(near) => told.push_str(&format!(
                "  = to do: write `{near}` if that is what was meant; the handbook's chapter on themes lists what there is\n"
            )),
            None => told.push_str("  = to do: look in the handbook's chapter on themes for what there is\n"),
        }
    }
    ThemeError::Template { told: told.trim_end().to_owned(), cause: Box::new(cause) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(files: &[(&str, &str)]) -> BTreeMap<String, Vec<u8>> {
        files.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect()
    }

    #[test]
    fn a_published_script_has_its_lines_and_none_of_its_comments() {
        let text = "/* What it is for,\n   in two lines. */\na();\n  /* One. */ b();\n\n  c(\"/* kept */\");\n/** @type {(x: string) => void} */\nconst d = (/** @type {string} */ x) => { e(x); };\n";
        assert_eq!(lean("a.js", text), "a();b();c(\"/* kept */\");const d = (x) => { e(x); };");
        assert_eq!(lean("a.js", "a(); // that;\nif (b) {\n  c()\n}\n"), "a(); // that;\nif (b) {c()\n}\n");
        assert_eq!(lean("a.css", "a {\n  b: c;\n}\n/* D. */\ne { }\n"), "a {b: c;}e { }");
        assert_eq!(lean("a.js", "a = `one;\ntwo`;\n"), "a = `one;\ntwo`;\n");
    }

    #[test]
    fn scripts_stand_behind_those_that_they_need_and_use_no_others() {
        let texts: BTreeMap<String, String> = BUILT_IN.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
        let order = in_order("bay.js", &texts);
        assert_eq!(order.last().map(String::as_str), Some("bay.js"));
        assert!(order.contains(&"units.js".to_owned()) && order.len() == 9, "{order:?}");
        // The options switch is on the page where the guide has options; one script of a page loads the bay view, another kept.js.
        let always = |script: &str, global: &str| {
            global == "bayleafOptions"
                // Goes out with every script that asks for a phrase.
                || global == "bayleafPhrases"
                || global == "bayleafChoice"
                || matches!((script, global), ("site.js", "bayleafBay") | ("kept.js", "bayleafKept"))
        };
        let mut checked = 0;
        for (name, text) in texts.iter().filter(|(name, _)| name.ends_with(".js")) {
            let needed = needs(Some(text));
            let place = |script: &String| order.iter().position(|known| known == script);
            assert!(needed.iter().all(|other| place(other) < place(name) || place(name).is_none()), "{name}: {order:?}");
            for rest in text.split("window.bayleaf").skip(1) {
                let global: String = "bayleaf".chars().chain(rest.chars().take_while(|c| c.is_alphanumeric())).collect();
                let sets = |text: &str| text.contains(&format!("window.{global} = "));
                let own = sets(text) || always(name, &global) || (global == "bayleafUnits" && needed.contains(&"units.js".to_owned()));
                assert!(
                    own || needed.iter().any(|other| texts.get(other).is_some_and(|text| sets(text))),
                    "{name} uses {global} without needing it"
                );
                checked += 1;
            }
        }
        assert!(checked > 30, "only {checked} uses were seen");
    }

    #[test]
    fn scripts_that_need_each_other_come_to_an_end() {
        let texts = BTreeMap::from([
            ("a.js".to_owned(), "/* A.\n   Needs: b.js, c.js */".to_owned()),
            ("b.js".to_owned(), "/* B.\n   Needs: a.js */".to_owned()),
        ]);
        assert_eq!(in_order("a.js", &texts), ["b.js", "c.js", "a.js"]);
    }

    #[test]
    fn faults_name_the_file_the_line_and_what_was_meant() {
        let error =
            |files: &[(&str, &str)]| Theme::new(&of(files), Language::English).err().map(|error| error.to_string()).unwrap_or_default();
        let syntax = error(&[("guide.html", "<p>\n{% if %}")]);
        assert!(syntax.contains(" --> themes/guide.html:2:"), "{syntax}");
        let template = error(&[("guide.html", "{% include \"cauton.html\" %}")]);
        assert!(template.contains("themes/guide.html:1:") && template.contains("write `caution.html`"), "{template}");

        let theme = Theme::new(&of(&[("front.html", "{{ front.guidse }}")]), Language::English).unwrap();
        let mut context = Context::new();
        context.insert("front", &BTreeMap::from([("guides", 3)]));
        let field = theme.render("front.html", &context, &mut Vec::new()).unwrap_err().to_string();
        assert!(field.contains("themes/front.html:1:") && field.contains("write `guides`"), "{field}");
    }

    #[test]
    fn the_sentence_is_looked_for_as_the_engine_writes_it() {
        let sentence = "The maker's <rules> & \"local\" law / ½ come first.";
        let theme = Theme::new(&of(&[("sentence.html", "{{ sentence }}")]), Language::English).unwrap();
        let mut context = Context::new();
        context.insert("sentence", sentence);
        let mut written = Vec::new();
        theme.render("sentence.html", &context, &mut written).unwrap();
        assert_eq!(String::from_utf8(written).unwrap(), deferral::as_written(sentence));
    }

    #[test]
    fn files_of_the_shop_s_own_go_out_unchanged_and_slips_of_names_are_told() {
        let own = BTreeMap::from([("wave.png".to_owned(), vec![0x89, b'P', 0xff]), ("guide.htm".to_owned(), b"x".to_vec())]);
        let theme = Theme::new(&own, Language::English).unwrap();
        assert_eq!(theme.files.get("assets/own/wave.png").map(Vec::as_slice), Some(&[0x89, b'P', 0xff][..]));
        assert_eq!(theme.doubts, ["themes/guide.htm takes the place of no built-in file; did you mean `guide.html`?"]);
    }

    #[test]
    fn no_step_can_have_an_id_that_a_page_of_its_guide_uses() {
        let of_others = [
            "findings", "front", "group", "handbook", "chapter", "kept", "news", "parts", "thread", "tools", "values", "vehicle",
            "register",
        ];
        for (name, text) in BUILT_IN.iter().filter(|(name, _)| !of_others.iter().any(|other| name.starts_with(other))) {
            for start in [" id=\"", " id: \"", ".id = \""] {
                let ids = text.split(start).skip(1).filter_map(|rest| rest.split('"').next());
                // What is put together holds an id of the guide's own.
                for id in ids.filter(|id| !id.contains('{') && !id.ends_with('-')) {
                    assert!(crate::guide::PAGE_IDS.contains(&id), "{name}: {id}");
                }
            }
        }
    }
}
