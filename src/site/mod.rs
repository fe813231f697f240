//! The site. From documents of guides to the bytes of pages, with the files for other programs and the search index. It
//! writes no file and reads none: pages come out as paths and bytes, one guide at a time, so that a large
//! shop is never in memory whole.

pub mod comparison;
pub mod found;
pub mod front;
pub mod groups;
pub mod guide_page;
pub mod html;
pub mod news;
pub mod parts;
pub mod threads;
pub mod tools;
pub mod values;
mod watch;

use rayon::prelude::*;

use crate::document::summary::Summary;
use crate::document::{Document, Head, phrase};
use crate::guide::model::Shop;
use crate::guide::picture::PictureFact;
use crate::machine;
use crate::pictures::{PictureError, Published};
use crate::search::{self, Entry, Packed};
use crate::theme::data::{GuideLine, PartRow, Site, Tool, TorqueRow, VERSION};
use crate::theme::{Theme, ThemeError, data, deferral};
use tera::{Context, Value};

/// What browsers are told to allow: the site's own files and nothing else.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; media-src 'self'; font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'";

/// A file of the site: its path and content.
pub type File = (String, Vec<u8>);

/// The published files of one picture of a guide, or why it cannot be unpacked: its head was read before, its body was not.
pub fn picture(slug: &str, address: &str, fact: PictureFact, bytes: &[u8]) -> Result<Vec<File>, PictureError> {
    let files = Published::plan(address, fact).make(bytes)?;
    Ok(files.into_iter().map(|(name, content)| (format!("guides/{slug}/{name}"), content)).collect())
}

/// A picture as sheets print it: the content of its narrowest file, which on paper has 150 dots to the inch.
pub fn sheet_picture(address: &str, fact: PictureFact, bytes: &[u8]) -> Result<Vec<u8>, PictureError> {
    Published::plan(address, fact).make_smallest(bytes)
}

/// The name of a picture's narrowest file.
pub fn sheet_picture_name(address: &str, fact: PictureFact) -> String {
    Published::plan(address, fact).smallest().to_owned()
}

/// Why pages cannot be made.
#[derive(Debug)]
pub enum SiteError {
    /// The theme cannot be used.
    Theme(ThemeError),
    /// A file for other programs cannot be written.
    Written(serde_json::Error),
}

impl std::fmt::Display for SiteError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            SiteError::Theme(error) => error.fmt(f),
            SiteError::Written(error) => write!(f, "a file for other programs cannot be written: {error}"),
        }
    }
}

impl std::error::Error for SiteError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            SiteError::Theme(error) => Some(error),
            SiteError::Written(error) => Some(error),
        }
    }
}

/// Takes a finished file: its path and content.
pub type Put<'f, E> = &'f mut dyn FnMut(&str, &[u8]) -> Result<(), E>;

/// Makes pages for one shop with one theme.
pub struct Publisher<'p> {
    shop: &'p Shop,
    theme: &'p Theme,
    site: Value,
}

/// What stays of a guide when its pages are written.
#[derive(Clone, Debug)]
pub struct Kept {
    /// What lists show of it.
    pub listed: Listed,
    /// What the search index knows of it.
    pub indexed: Indexed,
}

/// What the search index needs of a guide.
pub type Indexed = (Entry, Packed);

/// What lists show of a guide.
#[derive(Clone, Debug, serde::Deserialize, serde::Serialize)]
pub struct Listed {
    /// What it tells of itself.
    pub told: Summary,
    /// The line in lists.
    pub line: GuideLine,
    /// Its tightening values.
    pub torques: Vec<TorqueRow>,
    /// Its tools.
    pub tools: Vec<Tool>,
    /// The parts of its kit.
    pub parts: Vec<PartRow>,
    /// The hardware of its kit.
    pub hardware: Vec<PartRow>,
}

impl<'p> Publisher<'p> {
    /// A publisher for a shop.
    pub fn new(shop: &'p Shop, theme: &'p Theme) -> Self {
        Publisher { shop, theme, site: Value::from_serializable(&site_data(shop, theme)) }
    }

    /// Renders a whole page; one that does not say who comes first is refused.
    fn render(&self, template: &str, context: &Context, out: &mut Vec<u8>) -> Result<(), ThemeError> {
        self.theme.render(template, context, out)?;
        deferral::demand(out, &self.shop.deferral, template, self.theme.is_built_in())
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

    /// The pages of one guide, each handed to `put` as soon as it is made, and its summary; `standing` says what stands beside the page.
    pub fn guide<E: From<SiteError>>(&self, document: &Document, standing: data::Standing, put: Put<'_, E>) -> Result<Kept, E> {
        let data::Standing { sheets, older, kept } = standing;
        let page = data::Guide { sheets, older, kept, ..guide_page::page(document) };
        let folder = format!("guides/{}/", document.head.slug);
        let mut context = self.context("../../", "guide", "");
        context.insert("guide", &page);
        let mut buffer = Vec::with_capacity(64 << 10);
        let mut render = |template: &str, file: &str, context: &mut Context| -> Result<(), E> {
            buffer.clear();
            let path = format!("{folder}{file}");
            context.insert("path", &self.shop.address.is_some().then_some(&path));
            self.render(template, context, &mut buffer).map_err(SiteError::Theme)?;
            put(&path, &buffer)
        };
        render("guide.html", "index.html", &mut context)?;
        render("torque.html", "torque.html", &mut context)?;
        render("checklist.html", "checklist.html", &mut context)?;
        for (file, text) in [(watch::CHAPTERS, watch::webvtt(document)), (watch::LIST, watch::list(document))] {
            if let Some(text) = text {
                put(&format!("{folder}{file}"), text.as_bytes())?;
            }
        }
        put(&format!("{folder}guide.json"), &machine::guide_json::guide(document, self.shop).map_err(SiteError::Written)?)?;
        let (entry, terms) = search::gather(document, self.shop.language.reading());
        let (parts, hardware) = (guide_page::part_rows(document, &document.parts), guide_page::part_rows(document, &document.kit_hardware));
        let mut torques = page.torques;
        // Lists show no drawings, and a thousand guides' worth of them would fill the memory.
        torques.iter_mut().for_each(|row| row.torque.order_svg = None);
        let listed = Listed { told: Summary::of(document), line: page.line, torques, tools: page.tools, parts, hardware };
        Ok(Kept { listed, indexed: (entry, terms) })
    }

    /// The page of an older revision, marked as superseded; what differs from it now stands in the document.
    pub fn superseded<E: From<SiteError>>(&self, document: &Document, by: &Head, file: &str, put: Put<'_, E>) -> Result<(), E> {
        let superseded = Some(data::Superseded { revision: by.revision.clone(), issued: by.issued.map(phrase::date) });
        let mut page = data::Guide { superseded, ..guide_page::page(document) };
        // Bars stand beside what a revision changed, and this page tells what was changed after it.
        page.phases.iter_mut().flat_map(|phase| &mut phase.steps).for_each(|step| step.changed = false);
        let path = format!("guides/{}/{file}", document.head.slug);
        let mut context = self.context("../../", "guide", &path);
        context.insert("guide", &page);
        let mut bytes = Vec::with_capacity(64 << 10);
        self.render("guide.html", &context, &mut bytes).map_err(SiteError::Theme)?;
        put(&path, &bytes)
    }

    /// A page in the place of a guide that was moved or withdrawn, for each of `files` of its folder.
    pub fn gone<E: From<SiteError>>(&self, slug: &str, files: &[(&str, data::Gone)], put: Put<'_, E>) -> Result<(), E> {
        for (file, gone) in files {
            let path = format!("guides/{slug}/{file}");
            let mut context = self.context("../../", "gone", &path);
            context.insert("gone", gone);
            let mut bytes = Vec::new();
            self.render("gone.html", &context, &mut bytes).map_err(SiteError::Theme)?;
            put(&path, &bytes)?;
        }
        Ok(())
    }

    /// The handbook by itself, with the theme's files: no page of it leads anywhere else.
    pub fn handbook_alone(&self, chapters: &[data::Chapter]) -> Result<Vec<File>, SiteError> {
        let mut site = site_data(self.shop, self.theme);
        (site.handbook, site.alone) = (true, true);
        let alone = Publisher { shop: self.shop, theme: self.theme, site: Value::from_serializable(&site) };
        let mut files: Vec<File> = self.theme.files.iter().map(|(path, bytes)| (path.clone(), bytes.clone())).collect();
        let mut jobs = vec![Job::chapters(&chapters)];
        jobs.extend(chapters.iter().map(Job::chapter));
        let pages: Result<Vec<File>, SiteError> = jobs.into_iter().map(|job| alone.made(job)).collect();
        files.extend(pages?);
        Ok(files)
    }

    fn made(&self, job: Job<'_>) -> Result<File, SiteError> {
        let mut context = self.context(job.root, job.page, &job.path);
        context.insert_value(job.name, job.data.value());
        let mut bytes = Vec::new();
        self.render(job.template, &context, &mut bytes).map_err(SiteError::Theme).map(|()| (job.path, bytes))
    }

    /// The handbook, where the shop asks for it.
    pub fn handbook(&self, chapters: &[data::Chapter]) -> Result<Vec<File>, SiteError> {
        if !self.shop.handbook {
            return Ok(Vec::new());
        }
        let mut jobs = vec![Job::chapters(&chapters)];
        jobs.extend(chapters.iter().map(Job::chapter));
        jobs.into_par_iter().map(|job| self.made(job)).collect()
    }

    /// All pages that are made from several guides and the theme's files. `handbook` are the paths of its pages.
    pub fn over_all(&self, summaries: &[Listed], handbook: &[&str]) -> Result<Vec<File>, SiteError> {
        let mut lists = self.lists(summaries, &Lists::of(summaries, self.shop))?;
        lists.sort_by(|(a, _), (b, _)| a.cmp(b));
        let told: Vec<&Summary> = summaries.iter().map(|kept| &kept.told).collect();
        let mut paths: Vec<&str> = lists.iter().map(|(path, _)| path.as_str()).chain(handbook.iter().copied()).collect();
        paths.sort_unstable();
        let mut files = machine::files(&told, self.shop, paths.into_iter()).map_err(SiteError::Written)?;
        files.extend(self.theme.files.iter().map(|(path, bytes)| (path.clone(), bytes.clone())));
        files.extend(lists);
        Ok(files)
    }

    /// The search index, of guides and of the pages over several of them.
    pub fn index(&self, summaries: &[Listed], mut indexed: Vec<Indexed>) -> Vec<File> {
        let also: Vec<&str> = self.shop.also.iter().map(|group| group.value.as_str()).collect();
        let made = Lists::of(summaries, self.shop);
        indexed.extend(found::places(
            &made.threads,
            &made.tools,
            &made.parts,
            &made.by_vehicle,
            &made.by_system,
            self.shop.handbook,
            self.shop.language.phrases(),
        ));
        search::index(&indexed, &also)
    }

    /// What all its pages have in common: as long as it is the same, so is the page of the same document.
    pub fn common(&self) -> Vec<u8> {
        // Nothing in it can fail to be written.
        serde_json::to_vec(&site_data(self.shop, self.theme)).unwrap_or_default()
    }

    fn lists(&self, summaries: &[Listed], made: &Lists<'_>) -> Result<Vec<File>, SiteError> {
        let Lists { files, by_vehicle, by_system, tools, parts, vehicles, threads } = made;
        let (vehicle_list, system_list) = (groups::list("vehicles", by_vehicle), groups::list("systems", by_system));
        let (news, list, thread_list) = (news::page(summaries), values::list(vehicles), threads::list(threads));
        let front = front::page(summaries, self.shop, files, by_vehicle, by_system, !threads.is_empty());
        // Each page's data is made where the page is rendered: all of it at once would be the largest thing in memory.
        let mut jobs: Vec<Job<'_>> = vec![
            Job::at_top("front.html", "index.html", "front", "front", &front),
            Job::at_top("tools.html", "tools.html", "tools", "tools", tools),
            Job::at_top("news.html", "new.html", "news", "news", &news),
            Job::at_top("groups.html", "vehicles.html", "group", "groups", &vehicle_list),
            Job::at_top("groups.html", "systems.html", "group", "groups", &system_list),
            Job::at_top("kept.html", "kept.html", "kept", "kept", &()),
            Job::at_top("threads.html", "threads.html", "values", "threads", &thread_list),
            Job::at_top("values.html", "values.html", "values", "values", &list),
        ];
        jobs.extend(parts.iter().map(|page| match &page.range {
            None => Job::at_top("parts.html", "parts.html", "parts", "parts", page),
            Some(range) => {
                let path = format!("parts/{}.html", range.file);
                Job { template: "parts.html", path, root: "../", page: "parts", name: "parts", data: page }
            }
        }));
        jobs.extend(by_vehicle.iter().chain(by_system).map(|group| {
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

/// What is gathered from all guides for the pages over several of them.
struct Lists<'s> {
    files: groups::SystemFiles<'s>,
    by_vehicle: Vec<data::Group<'s>>,
    by_system: Vec<data::Group<'s>>,
    tools: data::Tools<'s>,
    parts: Vec<data::Parts<'s>>,
    vehicles: Vec<data::VehicleValues<'s>>,
    threads: Vec<data::ThreadValues<'s>>,
}

impl<'s> Lists<'s> {
    fn of(summaries: &'s [Listed], shop: &Shop) -> Self {
        let files = groups::system_files(summaries);
        Lists {
            by_vehicle: groups::vehicles(summaries, shop, &files),
            by_system: groups::systems(summaries, &files),
            tools: tools::page(summaries),
            parts: parts::pages(summaries),
            vehicles: values::pages(summaries, shop),
            threads: threads::pages(summaries),
            files,
        }
    }
}

/// What every page gets.
fn site_data(shop: &Shop, theme: &Theme) -> Site {
    Site {
        version: VERSION,
        language: shop.language.code().to_owned(),
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

/// The page of a comparison: one file that is handed out by itself and never becomes part of a site.
pub fn compared(page: &data::Compared, theme: &Theme) -> Result<Vec<u8>, ThemeError> {
    let mut context = Context::new();
    context.insert_value("compared", page.value());
    let mut bytes = Vec::new();
    theme.render("compared.html", &context, &mut bytes)?;
    deferral::demand(&bytes, &page.deferral, "compared.html", theme.is_built_in())?;
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
    fn chapters(data: &'d &[data::Chapter]) -> Self {
        Job { template: "handbook.html", path: "handbook/index.html".to_owned(), root: "../", page: "handbook", name: "chapters", data }
    }

    /// A chapter of the handbook.
    fn chapter(data: &'d data::Chapter) -> Self {
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
