//! Layer 3: the site. From models of guides to the bytes of pages, pictures and the search index. It
//! writes no file and reads none: pages come out as paths and bytes, one guide at a time, so that a large
//! shop is never in memory whole.

pub mod conditions;
pub mod deferral;
pub mod drawing;
pub mod drawn;
pub mod findings_page;
pub mod front;
pub mod groups;
pub mod guide_page;
pub mod handbook;
pub mod highlight;
pub mod html;
pub mod machine;
pub mod news;
pub mod page_data;
pub mod parts;
pub mod photo;
pub mod scrub;
pub mod search;
pub mod theme;
pub mod theme_fields;
pub mod threads;
pub mod tools;
pub mod units;
pub mod values;

use std::collections::BTreeMap;

use rayon::prelude::*;
use sha2::{Digest, Sha256};

use crate::guide::model::{Date, Guide, Shop};
use crate::guide::picture::{PictureFact, Pictures};
use guide_page::Facts;
use news::Issue;
use page_data::{GuideLine, PartRow, Site, Tool, TorqueRow, VERSION};
use photo::Published;
use search::{Entry, Packed};
use tera::{Context, Value};
use theme::{Theme, ThemeError};

/// What browsers are told to allow: the site's own files and nothing else.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'";

/// A file of the site: its path and content.
pub type File = (String, Vec<u8>);

/// The published files of one picture of a guide, or why it cannot be unpacked: its head was read before, its body was not.
pub fn picture(slug: &str, address: &str, fact: PictureFact, bytes: &[u8]) -> Result<Vec<File>, String> {
    let files = Published::plan(address, fact).make(bytes)?;
    Ok(files.into_iter().map(|(name, content)| (format!("guides/{slug}/{name}"), content)).collect())
}

/// A picture as sheets print it: the name that pages call it by, and the content of its narrowest file, which on paper has 150 dots
/// to the inch.
pub fn sheet_picture(address: &str, fact: PictureFact, bytes: &[u8]) -> Result<File, String> {
    let published = Published::plan(address, fact);
    let content = published.make_smallest(bytes)?;
    Ok((published.shown().to_owned(), content))
}

/// The names of a picture: the one that pages call it by, and that of its narrowest file.
pub fn picture_names(address: &str, fact: PictureFact) -> (String, String) {
    let published = Published::plan(address, fact);
    (published.shown().to_owned(), published.smallest().to_owned())
}

/// Takes a finished file: its path and content.
pub type Put<'f, E> = &'f mut dyn FnMut(&str, &[u8]) -> Result<(), E>;

/// Makes pages for one shop with one theme.
pub struct Publisher<'p> {
    shop: &'p Shop,
    theme: &'p Theme,
    site: Value,
}

/// What stays of a guide when its pages are written: what lists, sums and the search index need.
#[derive(Clone, Debug)]
pub struct Summary {
    /// The line in lists.
    pub line: GuideLine,
    /// Its fingerprint.
    pub fingerprint: String,
    /// The day of issue.
    pub issued: Option<Date>,
    /// Its tightening values.
    pub torques: Vec<TorqueRow>,
    /// Its tools.
    pub tools: Vec<Tool>,
    /// The parts of its kit.
    pub parts: Vec<PartRow>,
    /// The hardware of its kit.
    pub hardware: Vec<PartRow>,
    /// Its issued revisions.
    pub issues: Vec<Issue>,
    entry: Entry,
    terms: Packed,
}

/// What comes in for one guide beside its model.
pub struct GuideInput<'i> {
    /// What is known of its pictures.
    pub pictures: &'i Pictures,
    /// Its fingerprint.
    pub fingerprint: String,
    /// Whether it is published although it is held.
    pub draft: bool,
}

/// The data of a guide's pages and sheets.
pub fn page(guide: &Guide<'_>, shop: &Shop, input: &GuideInput<'_>) -> page_data::Guide {
    let published = planned(input);
    let facts = Facts { pictures: &published, fingerprint: input.fingerprint.clone(), draft: input.draft };
    guide_page::page(guide, shop, &facts)
}

fn planned(input: &GuideInput<'_>) -> BTreeMap<String, Published> {
    let pictures = input.pictures.iter();
    pictures.filter_map(|(address, fact)| Some((address.clone(), Published::plan(address, *fact.as_ref().ok()?)))).collect()
}

impl<'p> Publisher<'p> {
    /// A publisher for a shop.
    pub fn new(shop: &'p Shop, theme: &'p Theme) -> Self {
        Publisher { shop, theme, site: Value::from_serializable(&site_data(shop, theme)) }
    }

    /// Renders a whole page; one that does not say who comes first is refused.
    fn render(&self, template: &str, context: &Context, out: &mut Vec<u8>) -> Result<(), ThemeError> {
        self.theme.render(template, context, out)?;
        deferral::demand(out, &self.shop.deferral, template)
    }

    fn context(&self, root: &'static str, page: &str, path: &str) -> Context {
        let mut context = Context::new();
        // Only with it can a page say which of its addresses counts.
        context.insert("path", &self.shop.address.is_some().then_some(path));
        context.insert_value("site", self.site.clone());
        context.insert("root", root);
        context.insert("page", page);
        context
    }

    /// The pages of one guide, each handed to `put` as soon as it is made, and its summary. The data is what [`page`] gives, with the
    /// sheets that stand beside the page.
    pub fn guide<E: From<ThemeError>>(
        &self,
        guide: &Guide<'_>,
        input: &GuideInput<'_>,
        page: page_data::Guide,
        put: Put<'_, E>,
    ) -> Result<Summary, E> {
        let published = planned(input);
        let folder = format!("guides/{}/", guide.slug);
        let mut context = self.context("../../", "guide", "");
        context.insert("guide", &page);
        let mut buffer = Vec::with_capacity(64 << 10);
        let mut render = |template: &str, file: &str, context: &mut Context| -> Result<(), E> {
            buffer.clear();
            let path = format!("{folder}{file}");
            context.insert("path", &self.shop.address.is_some().then_some(&path));
            self.render(template, context, &mut buffer)?;
            put(&path, &buffer)
        };
        render("guide.html", "index.html", &mut context)?;
        render("torque.html", "torque.html", &mut context)?;
        // The sheet is the same on both papers: it is made once and laid on each.
        let mut sheet = Vec::with_capacity(32 << 10);
        self.theme.render("checklist-sheet.html", &context, &mut sheet)?;
        context.insert("sheet_html", &String::from_utf8_lossy(&sheet));
        for (paper, file) in [("A4", "checklist-a4.html"), ("Letter", "checklist-letter.html")] {
            context.insert("paper", paper);
            render("checklist.html", file, &mut context)?;
        }
        let from = machine::guide_json::From { guide, shop: self.shop, page: &page, input, pictures: &published };
        put(&format!("{folder}guide.json"), &machine::guide_json::guide(&from))?;
        let (entry, terms) = search::gather(guide, &page, self.shop, &published);
        let (parts, hardware) = (parts::rows(guide, &page), parts::hardware_rows(guide, self.shop, &page));
        let mut torques = page.torques;
        // Lists show no drawings, and a thousand guides' worth of them would fill the memory.
        torques.iter_mut().for_each(|row| row.torque.order_svg = None);
        Ok(Summary {
            fingerprint: page.fingerprint,
            issued: guide.issued.map(|date| date.value),
            torques,
            tools: page.tools,
            parts,
            hardware,
            issues: news::issues(guide),
            line: page.line,
            entry,
            terms,
        })
    }

    /// The handbook by itself, with the theme's files: no page of it leads anywhere else.
    pub fn handbook_alone(&self, chapters: &[page_data::Chapter]) -> Result<Vec<File>, ThemeError> {
        let mut site = site_data(self.shop, self.theme);
        (site.handbook, site.alone) = (true, true);
        let alone = Publisher { shop: self.shop, theme: self.theme, site: Value::from_serializable(&site) };
        let mut files: Vec<File> = self.theme.files.iter().map(|(path, bytes)| (path.clone(), bytes.clone())).collect();
        let mut jobs = vec![Job::chapters(&chapters)];
        jobs.extend(chapters.iter().map(Job::chapter));
        let pages: Result<Vec<File>, ThemeError> = jobs.into_iter().map(|job| alone.made(job)).collect();
        files.extend(pages?);
        Ok(files)
    }

    fn made(&self, job: Job<'_>) -> Result<File, ThemeError> {
        let mut context = self.context(job.root, job.page, &job.path);
        context.insert_value(job.name, job.data.value());
        let mut bytes = Vec::new();
        self.render(job.template, &context, &mut bytes).map(|()| (job.path, bytes))
    }

    /// All pages that are made from several guides, the theme's files and the search index. The chapters of the handbook are among them
    /// where the shop asks for it.
    pub fn site(&self, mut summaries: Vec<Summary>, chapters: &[page_data::Chapter]) -> Result<Vec<File>, ThemeError> {
        let mut files: Vec<File> = self.theme.files.iter().map(|(path, bytes)| (path.clone(), bytes.clone())).collect();
        let mut indexed = Vec::with_capacity(summaries.len());
        for summary in &mut summaries {
            indexed.push((std::mem::take(&mut summary.entry), std::mem::take(&mut summary.terms)));
        }
        let (lists, index) = rayon::join(|| self.lists(&summaries, chapters), || search::index(&indexed));
        let mut lists = lists?;
        lists.sort_by(|(a, _), (b, _)| a.cmp(b));
        files.extend(machine::files(&summaries, self.shop, lists.iter().map(|(path, _)| path.as_str())));
        files.extend(lists);
        files.extend(index);
        Ok(files)
    }

    fn lists(&self, summaries: &[Summary], chapters: &[page_data::Chapter]) -> Result<Vec<File>, ThemeError> {
        let files = groups::system_files(summaries);
        let (by_vehicle, by_system) = (groups::vehicles(summaries, self.shop, &files), groups::systems(summaries, &files));
        let (vehicle_list, system_list) = (groups::list("vehicles", &by_vehicle), groups::list("systems", &by_system));
        let (tools, parts, news) = (tools::page(summaries), parts::pages(summaries), news::page(summaries));
        let vehicles = values::pages(summaries, self.shop);
        let list = values::list(&vehicles);
        let threads = threads::pages(summaries);
        let thread_list = threads::list(&threads);
        let front = front::page(summaries, self.shop, &files, &by_vehicle, &by_system, !threads.is_empty());
        // Each page's data is made where the page is rendered: all of it at once would be the largest thing in memory.
        let mut jobs: Vec<Job<'_>> = vec![
            Job::at_top("front.html", "index.html", "front", "front", &front),
            Job::at_top("tools.html", "tools.html", "tools", "tools", &tools),
            Job::at_top("news.html", "new.html", "news", "news", &news),
            Job::at_top("groups.html", "vehicles.html", "group", "groups", &vehicle_list),
            Job::at_top("groups.html", "systems.html", "group", "groups", &system_list),
            Job::at_top("kept.html", "kept.html", "kept", "kept", &()),
            Job::at_top("threads.html", "threads.html", "values", "threads", &thread_list),
            Job::at_top("values.html", "values.html", "values", "values", &list),
        ];
        if self.shop.handbook {
            jobs.push(Job::chapters(&chapters));
            jobs.extend(chapters.iter().map(Job::chapter));
        }
        jobs.extend(parts.iter().map(|page| match &page.range {
            None => Job::at_top("parts.html", "parts.html", "parts", "parts", page),
            Some(range) => {
                let path = format!("parts/{}.html", range.file);
                Job { template: "parts.html", path, root: "../", page: "parts", name: "parts", data: page }
            }
        }));
        jobs.extend(by_vehicle.iter().chain(&by_system).map(|group| {
            let path = format!("{}/{}.html", group.folder, group.line.file);
            Job { template: "group.html", path, root: "../", page: "group", name: "group", data: group }
        }));
        jobs.extend(vehicles.iter().map(|vehicle| {
            let path = format!("values/{}.html", vehicle.file);
            Job { template: "vehicle.html", path, root: "../", page: "values", name: "vehicle", data: vehicle }
        }));
        jobs.extend(threads.iter().map(|thread| {
            let path = format!("threads/{}.html", thread.line.file);
            Job { template: "thread.html", path, root: "../", page: "values", name: "thread", data: thread }
        }));
        jobs.into_par_iter().map(|job| self.made(job)).collect()
    }
}

/// What every page gets.
fn site_data(shop: &Shop, theme: &Theme) -> Site {
    Site {
        version: VERSION,
        language: shop.language.clone(),
        shop: shop.name.clone(),
        notice: shop.notice.clone(),
        deferral: shop.deferral.clone(),
        handbook: shop.handbook,
        alone: false,
        imperial_first: shop.imperial_first,
        assets: theme.assets.clone(),
        address: shop.address.clone(),
        policy: POLICY,
    }
}

/// The reviewer's page: one file that is handed out by itself and never becomes part of a site.
pub fn findings(page: &page_data::Findings, theme: &Theme) -> Result<Vec<u8>, ThemeError> {
    let mut context = Context::new();
    context.insert_value("review", page.value());
    let mut bytes = Vec::new();
    theme.render("findings.html", &context, &mut bytes)?;
    deferral::demand(&bytes, &page.deferral, "findings.html")?;
    Ok(bytes)
}

/// A page to render: its template, its path, and the data it gets beside what every page gets.
struct Job<'d> {
    template: &'static str,
    path: String,
    root: &'static str,
    page: &'static str,
    name: &'static str,
    data: &'d (dyn Data + Sync),
}

impl<'d> Job<'d> {
    /// A page beside the front page.
    fn at_top(template: &'static str, path: &str, page: &'static str, name: &'static str, data: &'d (dyn Data + Sync)) -> Self {
        Job { template, path: path.to_owned(), root: "", page, name, data }
    }

    /// The list of the handbook's chapters.
    fn chapters(data: &'d &[page_data::Chapter]) -> Self {
        Job { template: "handbook.html", path: "handbook/index.html".to_owned(), root: "../", page: "handbook", name: "chapters", data }
    }

    /// A chapter of the handbook.
    fn chapter(data: &'d page_data::Chapter) -> Self {
        Job { template: "chapter.html", path: format!("handbook/{}.html", data.file), root: "../", page: "handbook", name: "chapter", data }
    }
}

/// Data that a template can get.
trait Data {
    fn value(&self) -> Value;
}

impl<T: serde::Serialize> Data for T {
    fn value(&self) -> Value {
        Value::from_serializable(self)
    }
}

/// Eight hexadecimal characters that change with the guide's text, the shop's and any picture's bytes.
pub fn fingerprint<'b>(parts: impl IntoIterator<Item = &'b [u8]>) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        // The length goes in as well, so that two parts cannot be cut apart differently with the same result.
        hash.update((part.len() as u64).to_le_bytes());
        hash.update(part);
    }
    let digits: String = hash.finalize().iter().take(4).map(|byte| format!("{byte:02x}")).collect();
    format!("{} {}", &digits[..4], &digits[4..])
}
