//! Which file of this crate names which, read off its paths: `use`, and paths in types, expressions and macros.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::fs;
use std::path::Path;
use std::sync::OnceLock;

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};

/// Files by their place below `src`, `book/results/mod.rs`, each with those that it names.
pub struct Uses(BTreeMap<String, BTreeSet<String>>);

/// What one file says: its own modules, what it hands on by `pub use`, and every path.
#[derive(Default)]
struct Said {
    modules: BTreeSet<String>,
    handed_on: BTreeMap<String, Vec<String>>,
    paths: Vec<Vec<String>>,
}

impl Uses {
    /// Of this crate, read once for all tests.
    pub fn of_this_crate() -> &'static Self {
        static USES: OnceLock<Uses> = OnceLock::new();
        USES.get_or_init(|| Self::of(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src")))
    }

    fn of(source: &Path) -> Self {
        let walk = walkdir::WalkDir::new(source).into_iter().filter_map(Result::ok).map(walkdir::DirEntry::into_path);
        let said: BTreeMap<String, Said> = walk
            .filter(|path| path.extension().is_some_and(|extension| extension == "rs"))
            .map(|path| {
                let name = path.strip_prefix(source).unwrap().to_str().unwrap().replace('\\', "/");
                let mut said = Said::default();
                said.visit_file(&syn::parse_file(&fs::read_to_string(&path).unwrap()).unwrap());
                (name, said)
            })
            .collect();
        let named = |file: &String| {
            let paths = said[file].paths.iter().filter_map(|path| target(&said, file, path));
            paths.filter(|target| target != file).collect()
        };
        Self(said.keys().map(|file| (file.clone(), named(file))).collect())
    }

    /// The files below a folder, `book/results/`, with what each names, in that folder and elsewhere.
    pub fn below<'a>(&'a self, folder: &'a str) -> impl Iterator<Item = (&'a str, &'a BTreeSet<String>)> {
        self.0.iter().filter(move |(file, _)| file.starts_with(folder)).map(|(file, named)| (&**file, named))
    }

    /// The shortest way from each part back to itself, where `part_of` says which part a file belongs to, if any.
    pub fn circles(&self, part_of: impl Fn(&str) -> Option<String>) -> Vec<Vec<String>> {
        let mut graph: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for (file, named) in &self.0 {
            let Some(part) = part_of(file) else { continue };
            let others = named.iter().filter_map(|file| part_of(file)).filter(|other| *other != part);
            graph.entry(part.clone()).or_default().extend(others);
        }
        graph.keys().filter_map(|part| way_back(&graph, part)).collect()
    }
}

fn way_back(graph: &BTreeMap<String, BTreeSet<String>>, start: &String) -> Option<Vec<String>> {
    let mut from: BTreeMap<&String, &String> = BTreeMap::new();
    let mut open = VecDeque::from([start]);
    while let Some(part) = open.pop_front() {
        for next in graph.get(part).into_iter().flatten() {
            if next == start {
                let mut way = vec![start.clone(), part.clone()];
                let mut at = part;
                while let Some(before) = from.get(at) {
                    way.push((*before).clone());
                    at = before;
                }
                way.reverse();
                return Some(way);
            }
            if !from.contains_key(next) {
                from.insert(next, part);
                open.push_back(next);
            }
        }
    }
    None
}

/// The modules on the way to what a file declares.
fn module_of(file: &str) -> Vec<String> {
    let mut path: Vec<String> = file.trim_end_matches(".rs").split('/').map(str::to_owned).collect();
    if matches!(path.last().map(String::as_str), Some("mod" | "lib" | "main")) {
        path.pop();
    }
    path
}

/// The file in which what a path names is declared; `None` outside this crate.
fn target(said: &BTreeMap<String, Said>, file: &str, path: &[String]) -> Option<String> {
    let own = module_of(file);
    let ups = path.iter().take_while(|step| *step == "super").count();
    let full: Vec<String> = match path.first()?.as_str() {
        "crate" => path[1..].to_vec(),
        "super" => own[..own.len().checked_sub(ups)?].iter().chain(&path[ups..]).cloned().collect(),
        "self" => own.iter().chain(&path[1..]).cloned().collect(),
        first if said[file].modules.contains(first) => own.iter().chain(path).cloned().collect(),
        _ => return None,
    };
    let holder = |length: usize| {
        let module = full[..length].join("/");
        [format!("{module}.rs"), format!("{module}/mod.rs")].into_iter().find(|file| said.contains_key(file))
    };
    let (length, file) = (1..=full.len()).rev().find_map(|length| Some((length, holder(length)?)))?;
    match full.get(length).and_then(|name| said[&file].handed_on.get(name)) {
        Some(on) => target(said, &file, on).or(Some(file)),
        None => Some(file),
    }
}

impl Said {
    fn of_use(&mut self, tree: &syn::UseTree, before: &[String], is_handed_on: bool) {
        let then = |name: &syn::Ident| before.iter().cloned().chain([name.to_string()]).collect::<Vec<_>>();
        let (name, path) = match tree {
            syn::UseTree::Path(path) => return self.of_use(&path.tree, &then(&path.ident), is_handed_on),
            syn::UseTree::Group(group) => {
                return group.items.iter().for_each(|tree| self.of_use(tree, before, is_handed_on));
            }
            syn::UseTree::Glob(_) => return self.paths.push(before.to_vec()),
            syn::UseTree::Name(name) if name.ident == "self" => return self.paths.push(before.to_vec()),
            syn::UseTree::Name(name) => (name.ident.to_string(), then(&name.ident)),
            syn::UseTree::Rename(rename) => (rename.rename.to_string(), then(&rename.ident)),
        };
        if is_handed_on {
            self.handed_on.insert(name, path.clone());
        }
        self.paths.push(path);
    }

    /// Paths in what a macro is given, which is no syntax tree.
    fn of_tokens(&mut self, tokens: TokenStream) {
        let mut path: Vec<String> = Vec::new();
        let mut colons = 0;
        for token in tokens {
            match token {
                TokenTree::Ident(name) => {
                    if colons != 2 {
                        self.paths.extend((path.len() > 1).then(|| path.clone()));
                        path.clear();
                    }
                    path.push(name.to_string());
                    colons = 0;
                }
                TokenTree::Punct(point) if point.as_char() == ':' => colons += 1,
                other => {
                    colons = 0;
                    self.paths.extend((path.len() > 1).then(|| path.clone()));
                    path.clear();
                    if let TokenTree::Group(group) = other {
                        self.of_tokens(group.stream());
                    }
                }
            }
        }
        self.paths.extend((path.len() > 1).then_some(path));
    }
}

impl<'a> Visit<'a> for Said {
    fn visit_item_mod(&mut self, module: &'a syn::ItemMod) {
        // A module within a file is its tests.
        if module.content.is_none() {
            self.modules.insert(module.ident.to_string());
        }
    }

    fn visit_item_use(&mut self, item: &'a syn::ItemUse) {
        self.of_use(&item.tree, &[], !matches!(item.vis, syn::Visibility::Inherited));
    }

    fn visit_path(&mut self, path: &'a syn::Path) {
        self.paths.push(path.segments.iter().map(|segment| segment.ident.to_string()).collect());
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, called: &'a syn::Macro) {
        self.of_tokens(called.tokens.clone());
    }

    /// Who may see an item is no use of that module.
    fn visit_visibility(&mut self, _: &'a syn::Visibility) {}

    fn visit_attribute(&mut self, _: &'a syn::Attribute) {}
}
