//! Data for other programs: types that are declared once, with the words that the handbook prints beside each of their fields.

/// A field of an object as declared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// Its type in the program.
    pub of: &'static str,
    /// What it means.
    pub meaning: &'static str,
}

/// An object: the type's name, its heading and its fields.
pub type Object = (&'static str, &'static str, Vec<Field>);

/// A field in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Its name.
    pub name: &'static str,
    /// What stands in it.
    pub holds: String,
    /// What it means.
    pub meaning: &'static str,
}

/// Every object's heading with its fields in words.
pub fn rows(objects: &[Object]) -> Vec<(&'static str, Vec<Row>)> {
    let row = |field: &Field| Row { name: field.name, holds: field.describe(objects), meaning: field.meaning };
    objects.iter().map(|(_, title, fields)| (*title, fields.iter().map(row).collect())).collect()
}

impl Field {
    /// What stands in the field, in words.
    pub fn describe(&self, objects: &[Object]) -> String {
        let of = self.of.replace(' ', "");
        let inner = |start: &str| of.strip_prefix(start).and_then(|rest| rest.strip_suffix('>')).map(str::to_owned);
        if let Some(rest) = inner("Vec<") {
            return format!("a list of {}", plural(&rest, objects));
        }
        if let Some(rest) = inner("Option<") {
            return format!("{}, or null", one(&rest, objects));
        }
        one(&of, objects)
    }
}

fn one(of: &str, objects: &[Object]) -> String {
    match of {
        "String" | "&'staticstr" => "text".to_owned(),
        "u32" | "usize" => "a whole number".to_owned(),
        "f64" => "a number".to_owned(),
        "bool" => "true or false".to_owned(),
        other => format!("an object: {}", title(other, objects)),
    }
}

fn plural(of: &str, objects: &[Object]) -> String {
    match of {
        "String" => "texts".to_owned(),
        "f64" => "numbers".to_owned(),
        other => format!("objects: {}", title(other, objects)),
    }
}

fn title(of: &str, objects: &[Object]) -> String {
    objects.iter().find(|(name, ..)| *name == of).map_or_else(|| of.to_lowercase(), |(_, title, _)| title.to_lowercase())
}

/// Declares types once, with the words that the handbook prints: types that are written, or after `read back:` types that are read.
macro_rules! objects {
    (read back: $($rest:tt)+) => { $crate::described::objects! { @ Clone, serde::Deserialize; $($rest)+ } };
    (@ $one:path, $two:path; $($(#[doc = $about:literal])+ $name:ident $title:literal { $(#[doc = $meaning:literal] $field:ident: $of:ty,)+ })+) => {
        $(
            $(#[doc = $about])+
            #[derive(Debug, PartialEq, $one, $two)]
            pub struct $name { $(#[doc = $meaning] pub $field: $of,)+ }
        )+

        /// Every object: the type's name, its heading and its fields.
        pub fn objects() -> Vec<$crate::described::Object> {
            vec![$((
                stringify!($name),
                $title,
                vec![$($crate::described::Field { name: stringify!($field), of: stringify!($of), meaning: $meaning.trim_ascii() }),+],
            )),+]
        }
    };
    ($($rest:tt)+) => { $crate::described::objects! { @ Clone, serde::Serialize; $($rest)+ } };
}

pub(crate) use objects;
