//! After any changes in any order, what is said of a book is what a fresh check says.

use std::collections::BTreeMap;

use proptest::prelude::*;

use super::*;

/// Pieces of a book that name one another, are wrong now and then, and come several to a file.
const PIECES: [&str; 22] = [
    "",
    "# a comment\n\n",
    "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n  show in: g·mm\n}\n",
    "shop \"Tern Quay Rotor Shop\" {\n  show in: oz·in\n  severity rotor-without-tolerance {\n    level: error\n    because: \"shop rule\"\n  }\n}\n",
    "shop \"later\" {\n  format: 99\n}\n",
    "material \"wheel alloy\" {\n  density: 2.68 g/cm³\n}\n",
    "masses \"brass set\" {\n  values: 1.00 g, 2.00 g, 3.00 g\n  uncertainty: 0.01 g\n}\n",
    "machine \"soft bench\" {\n  supports: soft\n  rotor mass: 0.5 kg to 50 kg\n  channels: left, right\n  readout {\n    shows: div\n    angles: by strobe\n  }\n}\n",
    "machine \"soft bench\" {\n  supports: soft\n  rotor mass: 40 kg to 50 kg\n  swing: 100 mm\n  channels: left, right\n}\n",
    "rotor \"fan wheel\" {\n  mass: 4.8 kg\n  bearings: 0 mm, 164 mm\n  largest diameter: 330 mm\n  plane hub {\n    at: 34 mm\n    radius: 134 mm\n    correct: remove\n    material: \"wheel alloy\"\n  }\n}\n",
    "rotor \"fan wheel\" {\n  mass: 4.9 kg\n  bearings: 0 mm, 164 mm\n  mass centre: 82 mm\n  highest service speed: 3550 rpm\n  plane hub {\n    at: 34 mm\n    radius: 134 mm\n    correct: remove\n  }\n  plane rim {\n    at: 121 mm\n    radius: 141 mm\n    correct: add\n  }\n  tolerance {\n    grade: G 6.3\n  }\n}\n",
    "rotor \"spare wheel\" {\n  mass: 5 kg\n  bearings: 0 mm, 164 mm\n  mass centre: 82 mm\n  tolerance {\n    scaled from: \"fan wheel\"\n  }\n}\n",
    "rotor \"whole fan\" {\n  made of \"fan wheel\" {\n    at: 10 mm\n    balanced: by itself\n  }\n  made of \"shaft\" {\n    at: 0 mm\n  }\n}\n",
    "rotor \"shaft\" {\n  mass: 2 kg\n  made of \"whole fan\" {\n    at: 0 mm\n  }\n}\n",
    "setup \"fan on soft\" {\n  rotor: \"fan wheel\"\n  machine: \"soft bench\"\n  masses: \"brass set\"\n  balancing speed: 1150 rpm\n  channel left: hub\n  channel right: rim\n  calibrate hub {\n    mass: 3.00 g\n    radius: 134 mm\n    angle: 0 deg\n  }\n}\n",
    "setup \"second fan\" {\n  like: \"fan on soft\"\n  balancing speed: 900 rpm\n}\n",
    "setup \"third fan\" {\n  like: \"second fan\"\n  rotor: \"spare wheel\"\n}\n",
    "setup \"lost\" {\n  rotor: \"fan weel\"\n  machine: \"spare wheel\"\n}\n",
    "rotor \"unclosed\" {\n  mass: 3,5 kg\n",
    "<<<<<<< ours\nrotor \"spare wheel\" {\n=======\nrotor \"fan wheel\" {\n>>>>>>> theirs\n}\n",
    "setup \"fan on soft\" {\n  rotor: \"spare wheel\"\n}\n",
    "record \"first run\" {\n  setup: \"fan on soft\"\n}\n",
];

const PATHS: [&str; 5] = ["book.rotor", "a.rotor", "m/b.rotor", "m/c.rotor", "z.rotor"];

#[derive(Clone, Debug)]
enum Step {
    /// A file has these pieces now.
    Write(usize, Vec<usize>),
    /// A few characters go and others come.
    Edit(usize, usize, usize, &'static str),
    Remove(usize),
    /// Of two items of one name the first goes with its file.
    RemoveFirst(usize),
    /// Of two items of one name the first gets another.
    RenameFirst(usize),
    /// Several files at once.
    Many(Vec<(usize, Vec<usize>)>),
    /// Some of what is stale is judged in between.
    Judge(usize),
}

fn step() -> impl Strategy<Value = Step> {
    let path = 0..PATHS.len();
    let pieces = || prop::collection::vec(0..PIECES.len(), 0..4);
    let typed = prop::sample::select(vec!["", "x", "\n", "7", "\"", "# ", "}", " {\n", "fan wheel", "mass: 3 kg\n"]);
    prop_oneof![
        3 => (path.clone(), pieces()).prop_map(|(path, pieces)| Step::Write(path, pieces)),
        6 => (path.clone(), 0usize..900, 0usize..6, typed).prop_map(|(path, at, gone, new)| Step::Edit(path, at, gone, new)),
        1 => path.clone().prop_map(Step::Remove),
        1 => (0usize..9).prop_map(Step::RemoveFirst),
        1 => (0usize..9).prop_map(Step::RenameFirst),
        1 => prop::collection::vec((path, pieces()), 1..6).prop_map(Step::Many),
        3 => (0usize..4).prop_map(Step::Judge),
    ]
}

fn text_of(pieces: &[usize]) -> String {
    pieces.iter().map(|piece| PIECES[*piece]).collect()
}

/// A book in two forms: its texts, and what is kept of it.
#[derive(Default)]
struct Both {
    texts: BTreeMap<&'static str, String>,
    judged: JudgedBook,
    /// What a client has been told of each file, and is told again only of those that are judged.
    told: BTreeMap<Box<str>, Vec<String>>,
}

impl Both {
    fn set(&mut self, changes: Vec<(&'static str, Option<String>)>) {
        let mut last: BTreeMap<&'static str, Option<String>> = BTreeMap::new();
        last.extend(changes);
        let changes = last.iter().map(|(path, text)| {
            let before = self.judged.book().file_at(path).map(|id| self.judged.book().file(id));
            let file = text.as_ref().map(|text| match before {
                Some(before) => before.changed(text.as_str()),
                None => SourceFile::read(*path, text.as_str()),
            });
            (Box::from(*path), file.map(Arc::new))
        });
        let changes = changes.collect();
        self.judged.update(changes);
        for (path, text) in last {
            match text {
                Some(text) => _ = self.texts.insert(path, text),
                None => {
                    self.texts.remove(path);
                    self.told.remove(path);
                }
            }
        }
    }

    /// The first of several items that have one name: the place of the n-th of these in the files.
    fn first_of_several(&self, n: usize) -> Option<(&'static str, crate::text::Span)> {
        let book = self.judged.book();
        let items: Vec<_> = book.items().filter(|id| book.item(*id).kind != crate::syntax::Kind::Shop).collect();
        let is_first = |id: &crate::book::ItemId| match &book.item(*id).name {
            Some(name) => matches!(book.named(book.item(*id).kind, &name.text), [first, _, ..] if first == id),
            None => false,
        };
        let firsts: Vec<_> = items.into_iter().filter(is_first).collect();
        let first = *firsts.get(n % firsts.len().max(1))?;
        let path = PATHS.into_iter().find(|path| *path == &*book.file(first.file).path)?;
        Some((path, book.item(first).name.as_ref()?.span))
    }

    fn take(&mut self, step: &Step) {
        match step {
            Step::Write(path, pieces) => self.set(vec![(PATHS[*path], Some(text_of(pieces)))]),
            Step::Edit(path, at, gone, new) => {
                let Some(text) = self.texts.get(PATHS[*path]) else { return };
                let characters: Vec<char> = text.chars().collect();
                let at = at % (characters.len() + 1);
                let end = (at + gone).min(characters.len());
                let new = new.chars();
                let text = characters[..at].iter().copied().chain(new).chain(characters[end..].iter().copied());
                self.set(vec![(PATHS[*path], Some(text.collect()))]);
            }
            Step::Remove(path) => self.set(vec![(PATHS[*path], None)]),
            Step::RemoveFirst(n) => {
                if let Some((path, _)) = self.first_of_several(*n) {
                    self.set(vec![(path, None)]);
                }
            }
            Step::RenameFirst(n) => {
                if let Some((path, span)) = self.first_of_several(*n) {
                    let text = &self.texts[path];
                    let renamed =
                        format!("{}\"another {n}\"{}", &text[..span.start as usize], &text[span.end as usize..]);
                    self.set(vec![(path, Some(renamed))]);
                }
            }
            Step::Many(files) => {
                let change = |(path, pieces): &(usize, Vec<usize>)| (PATHS[*path], Some(text_of(pieces)));
                self.set(files.iter().map(change).collect());
            }
            Step::Judge(most) => {
                let judged = self.judged.judge_some(*most);
                self.tell(judged);
            }
        }
    }

    fn settle(&mut self) {
        loop {
            let judged = self.judged.judge_some(3);
            if judged.is_empty() {
                break;
            }
            self.tell(judged);
        }
        if self.judged.whole_is_stale() {
            let concerned = self.judged.judge_whole();
            self.tell(concerned);
        }
        assert!(!self.judged.has_stale());
    }

    fn tell(&mut self, files: impl IntoIterator<Item = FileId>) {
        for file in files {
            let path = self.judged.book().file(file).path.clone();
            self.told.insert(path, self.judged.diagnostics(file).iter().map(line).collect());
        }
    }

    fn compare(&self) {
        for (id, file) in self.judged.book().files() {
            let now: Vec<String> = self.judged.diagnostics(id).iter().map(line).collect();
            assert_eq!(self.told.get(&file.path), Some(&now), "told of {}: {:#?}", file.path, self.texts);
        }
        let (kept, fresh) = (self.kept(), self.fresh());
        for (kept, fresh) in kept.iter().zip(&fresh) {
            assert_eq!(format!("{kept:#?}"), format!("{fresh:#?}"), "{:#?}", self.texts);
        }
        assert_eq!(kept.len(), fresh.len(), "{:#?}", self.texts);
    }

    fn kept(&self) -> Vec<Diagnostic> {
        let book = self.judged.book();
        book.files().flat_map(|(id, _)| self.judged.diagnostics(id)).collect()
    }

    fn fresh(&self) -> Vec<Diagnostic> {
        let read = |(path, text): (&&'static str, &String)| Arc::new(SourceFile::read(*path, text.as_str()));
        check::check(&Book::new(self.texts.iter().map(read).collect()))
    }
}

/// What a client shows of a diagnostic in its file. Places elsewhere may move without its being told again.
fn line(said: &Diagnostic) -> String {
    format!("{:?} {} {}", said.place.span, said.rule.code, said.message)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn what_is_kept_is_what_a_fresh_check_says(steps in prop::collection::vec(step(), 1..30), often in any::<bool>()) {
        let mut both = Both::default();
        for step in &steps {
            both.take(step);
            if often {
                both.settle();
                both.compare();
            }
        }
        both.settle();
        both.compare();
    }
}

#[test]
fn a_change_concerns_who_looked_it_up_and_no_other() {
    let mut both = Both::default();
    both.set(vec![
        ("book.rotor", Some(text_of(&[2, 5]))),
        ("a.rotor", Some(text_of(&[10]))),
        ("m/b.rotor", Some(text_of(&[14]))),
        ("z.rotor", Some(text_of(&[13]))),
    ]);
    both.settle();
    let stale = |both: &Both| -> Vec<String> {
        let files = both.judged.book().files();
        files.filter(|(id, _)| both.judged.is_stale(*id)).map(|(_, file)| file.path.to_string()).collect()
    };
    both.set(vec![("a.rotor", Some(text_of(&[10]).replace("4.9 kg", "5.9 kg")))]);
    assert_eq!(stale(&both), ["a.rotor", "m/b.rotor"]);
    both.settle();
    both.set(vec![("m/b.rotor", Some(format!("# moved down\n{}", text_of(&[14]))))]);
    assert_eq!(stale(&both), ["m/b.rotor"]);
}

#[test]
fn judging_can_be_given_up() {
    let mut both = Both::default();
    both.set(vec![("a.rotor", Some(text_of(&[10, 11])))]);
    assert!(!both.judged.judge(FileId(0), || false));
    assert!(both.judged.is_stale(FileId(0)));
}

/// A setup takes its speed over from another file, where an edit moves it.
#[test]
fn a_place_in_another_file_is_the_one_where_the_fact_stands() {
    let mut both = Both::default();
    let steps = [
        Step::Write(3, vec![20, 16]),
        Step::Write(4, vec![15, 11]),
        Step::Edit(3, 114, 1, " {\n"),
        Step::Write(0, vec![]),
        Step::Edit(3, 116, 1, ""),
    ];
    for step in steps {
        both.take(&step);
        both.settle();
        both.compare();
    }
}

/// Of two machines of one name the first goes, or is called otherwise: nothing is wrong with the other one any more.
#[test]
fn a_file_that_is_the_first_of_its_name_now_is_told_again() {
    for last in [Step::RemoveFirst(0), Step::RenameFirst(0)] {
        let mut both = Both::default();
        for step in [Step::Write(4, vec![7]), Step::Write(1, vec![7])] {
            both.take(&step);
        }
        both.settle();
        let is_twice = |both: &Both| both.told["z.rotor"].iter().any(|said| said.contains("name-used-twice"));
        assert!(is_twice(&both));
        both.take(&last);
        both.settle();
        assert!(!is_twice(&both), "{last:?}");
        both.compare();
    }
}

/// Nobody is told that a fact is missing where one of the lines is not read, of this sheet or of one that it is like. That
/// is so too when the line only touches the other sheet.
#[test]
fn what_is_written_beside_an_item_concerns_who_takes_facts_over_from_it() {
    let mut both = Both::default();
    for step in
        [Step::Write(4, vec![15]), Step::Write(0, vec![16]), Step::Edit(4, 71, 0, "x"), Step::Edit(4, 71, 1, "")]
    {
        both.take(&step);
        both.settle();
        both.compare();
    }
}
