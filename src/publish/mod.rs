//! Layer 3: the site. From models of guides to the bytes of pages, pictures and the search index. It
//! writes no file and reads none: pages come out as paths and bytes, one guide at a time, so that a large
//! shop is never in memory whole.

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

use rayon::prelude::*;
use sha2::{Digest, Sha256};

use crate::document::Document;
use crate::guide::model::{Date, Shop};
use crate::guide::picture::PictureFact;
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

/// A picture as sheets print it: the content of its narrowest file, which on paper has 150 dots to the inch.
pub fn sheet_picture(address: &str, fact: PictureFact, bytes: &[u8]) -> Result<Vec<u8>, String> {
    Published::plan(address, fact).make_smallest(bytes)
}

/// The name of a picture's narrowest file.
pub fn sheet_picture_name(address: &str, fact: PictureFact) -> String {
    Published::plan(address, fact).smallest().to_owned()
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
    /// The vehicles that it fits.
    pub fits: Vec<crate::document::Vehicle>,
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

impl<'p> Publisher<'p> {
    /// A publisher for a shop.
    pub fn new(shop: &'p Shop, theme: &'p Theme) -> Self {
        let site = Site {
            version: VERSION,
            language: shop.language.clone(),
            shop: shop.name.clone(),
            notice: shop.notice.clone(),
            deferral: shop.deferral.clone(),
            imperial_first: shop.imperial_first,
            assets: theme.assets.clone(),
            address: shop.address.clone(),
            policy: POLICY,
        };
        Publisher { shop, theme, site: Value::from_serializable(&site) }
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

    /// The pages of one guide, each handed to `put` as soon as it is made, and its summary; `sheets` are the files that stand beside the
    /// page.
    pub fn guide<E: From<ThemeError>>(
        &self,
        document: &Document,
        sheets: Vec<page_data::SheetLinks>,
        put: Put<'_, E>,
    ) -> Result<Summary, E> {
        let page = page_data::Guide { sheets, ..guide_page::page(document) };
        let folder = format!("guides/{}/", document.head.slug);
        let mut context = self.context("../../", "guide", "");
        context.insert("guide", &page);
        let mut buffer = Vec::with_capacity(64 << 10);
        let mut render = |template: &str, file: &str, context: &mut Context| -> Result<(), E> {
            buffer.clear();
            let path = format!("{folder}{file}");
            context.insert("path", &self.shop.address.is_some().then_some(&path));
            self.theme.render(template, context, &mut buffer)?;
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
        put(&format!("{folder}guide.json"), &machine::guide_json::guide(document, self.shop))?;
        let (entry, terms) = search::gather(document);
        let (parts, hardware) = (guide_page::part_rows(document, &document.parts), guide_page::part_rows(document, &document.kit_hardware));
        let mut torques = page.torques;
        // Lists show no drawings, and a thousand guides' worth of them would fill the memory.
        torques.iter_mut().for_each(|row| row.torque.order_svg = None);
        Ok(Summary {
            fits: document.head.fits.clone(),
            fingerprint: page.fingerprint,
            issued: document.head.issued,
            torques,
            tools: page.tools,
            parts,
            hardware,
            issues: news::issues(document),
            line: page.line,
            entry,
            terms,
        })
    }

    /// All pages that are made from several guides, the theme's files and the search index.
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
            Job {
                template: "handbook.html",
                path: "handbook/index.html".into(),
                root: "../",
                page: "handbook",
                name: "chapters",
                data: &chapters,
            },
        ];
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
        jobs.extend(chapters.iter().map(|chapter| {
            let path = format!("handbook/{}.html", chapter.file);
            Job { template: "chapter.html", path, root: "../", page: "handbook", name: "chapter", data: chapter }
        }));
        let render = |job: Job<'_>| {
            let mut context = self.context(job.root, job.page, &job.path);
            context.insert_value(job.name, job.data.value());
            let mut bytes = Vec::new();
            self.theme.render(job.template, &context, &mut bytes).map(|()| (job.path, bytes))
        };
        jobs.into_par_iter().map(render).collect()
    }
}

/// The reviewer's page: one file that is handed out by itself and never becomes part of a site.
pub fn findings(page: &page_data::Findings, theme: &Theme) -> Result<Vec<u8>, ThemeError> {
    let mut context = Context::new();
    context.insert_value("review", page.value());
    let mut bytes = Vec::new();
    theme.render("findings.html", &context, &mut bytes)?;
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
