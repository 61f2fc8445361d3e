//! `prove`: the proof of a setup, asked at the machine.

use clap::Args;

use super::answers::{AnswerArguments, Answers};
use super::desk::{Desk, PROOF_GOES_ON, Tried};
use crate::asking::{self, Step};
use crate::book::{self, Computing, ItemId, ProofShows};
use crate::check;
use crate::cli::find::{self, ItemKind};
use crate::cli::stated::stated;
use crate::cli::{Exit, Failure, Outcome, Session, findings};
use crate::disk;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::text::{Edit, Span, harmless};
use crate::vocabulary::proof;

/// Prove a setup: answer questions at the machine, and the proof is written for you
///
/// Asks what the masses read, alone in each plane, back at the start and mounted again; `-` leaves out what is not done. Each
/// answer is written into a `proof` of today at once; stop with Ctrl-C when you like, and the same command goes on where
/// you stopped. In the end the proof takes over the facts and limits that it was made with, and is judged; until then the
/// sheet goes by the proof before it. `back` takes the last answer out. A static stand has no setting to prove.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook prove \"fan wheel 315 on the soft bench\" --by \"fan bay\"\n  \
    rotorbook prove \"fan wheel 315 on the soft bench\" --answers proof.txt")]
pub(in crate::cli) struct ProveArguments {
    /// The name of the setup
    #[arg(value_name = "SETUP")]
    name: String,

    /// Who proves it
    #[arg(long, value_name = "TEXT", value_parser = stated)]
    by: Option<String>,

    #[command(flatten)]
    answers: AnswerArguments,
}

pub(in crate::cli) fn run(session: &mut Session, arguments: &ProveArguments) -> Outcome {
    let mut answers = Answers::of(&arguments.answers)?;
    let mut books = find::books(session)?;
    let (loaded, _) = find::item(&books, &arguments.name, Some(ItemKind(Kind::Setup)))?;
    let root = loaded.root.clone();
    let at = books.iter().position(|other| other.root == root).unwrap_or(0);
    let mut desk = Desk::of(books.swap_remove(at));
    let today = disk::today();
    let id = desk.item(Kind::Setup, &arguments.name)?;
    if Computing::without_explanations(&desk.book).setup(id).is_some_and(|setup| setup.is_on_stand()) {
        let why = format!("\"{}\" is for a static stand, which has no setting to prove", harmless(&arguments.name));
        return Err(Failure::new(why).help(
            "what the stand can show is in each record: `starts with`, the least mass that sets the rotor rolling, put on at \
             two places half a turn apart",
        ));
    }
    if proof_of(&desk, id, &today).is_some() {
        session.terminal.say(&format!("continuing proof \"{today}\""));
    }
    begin(&mut desk, id, &today, arguments.by.as_deref())?;
    {
        let computing = Computing::without_explanations(&desk.book);
        if let Some(setup) = computing.setup(id) {
            super::may_begin(session, &computing, &setup, &PROOF_GOES_ON)?;
        }
    }
    desk.judge_proof(id, &today);
    desk.take_as_said(id);
    let (mut left_out, mut about): (Vec<String>, String) = (Vec::new(), String::new());
    loop {
        // `back` may have taken it out again.
        begin(&mut desk, id, &today, arguments.by.as_deref())?;
        let book = desk.book.clone();
        let computing = Computing::without_explanations(&book);
        let setup = computing.setup(id).ok_or_else(|| Failure::new("the setup cannot be read"))?;
        let Some(question) = asking::next_of_proof(&computing, &setup, &today, &left_out) else { break };
        if about != question.about {
            session.terminal.show(&format!("\n{}", harmless(&question.about)));
        }
        about.clone_from(&question.about);
        let Some(answer) = answers.ask(session, &question)? else {
            session.terminal.say(match desk.is_held() {
                true => "stopped; nothing was answered, and no proof is written",
                false => {
                    "stopped; every answer is in the proof, which is not finished, and the same command continues it"
                }
            });
            return Ok(Exit::Findings);
        };
        if answer == "back" {
            about = String::new();
            if left_out.pop().is_some() || desk.back()? {
                session.terminal.say("last answer removed");
            } else {
                let proof = proof_of(&desk, id, &today).filter(|_| !desk.is_held());
                let last = proof.and_then(|proof| super::last_answer(&desk.book, id.file, [proof]));
                session.terminal.say(&super::nothing_to_take_back(last, "prove"));
            }
            continue;
        }
        match question.answered(&book, &answer) {
            Err(refused) => session.terminal.warn(&refused.0),
            Ok(Step::Writes { edits, .. }) => {
                if let Tried::Written = desk.change(session, id, &edits, &answer)? {
                    super::written(session, &question, &edits);
                }
            }
            Ok(Step::LeavesOut(what)) => left_out.push(what),
            Ok(_) => break,
        }
    }
    name_who(session, &mut desk, (id, &today), arguments.by.as_deref())?;
    finish(session, &mut desk, id, &today)
}

/// Who proves it, in a proof that was begun without saying so; of one that says it, the word stays.
fn name_who(
    session: &mut Session,
    desk: &mut Desk,
    (id, today): (ItemId, &str),
    by: Option<&str>,
) -> Result<(), Failure> {
    let book = desk.book.clone();
    let (Some(by), false) = (by.map(check::quoted), desk.is_held()) else { return Ok(()) };
    let Some(proof) = book.item(id).inner(Kind::Proof).find(|proof| proof.name_text() == today) else { return Ok(()) };
    let text = &book.file(id.file).text;
    if let Some(own) = proof.field(proof::BY) {
        let own = own.value_span.of(text);
        if own != by {
            session.terminal.warn(&format!("the proof was begun by {}, and stays so", harmless(own)));
        }
        return Ok(());
    }
    let line = format!("{}: {by}", proof::BY);
    match proof.field(proof::DATE).and_then(|date| check::line_behind(text, date, &line)) {
        Some(edit) => desk.add(id.file, &[edit]),
        None => Ok(()),
    }
}

fn proof_of<'b>(desk: &'b Desk, id: ItemId, name: &str) -> Option<&'b Block> {
    desk.book.item(id).inner(Kind::Proof).find(|proof| proof.name_text() == name)
}

/// The proof of today, unless it is there: work goes on with it. The first answer writes it.
fn begin(desk: &mut Desk, id: ItemId, today: &str, by: Option<&str>) -> Result<(), Failure> {
    if proof_of(desk, id, today).is_some() {
        return Ok(());
    }
    let book = desk.book.clone();
    let setup = book.item(id);
    let mut lines = format!("\n{} {} {{\n  {}: {today}\n", Kind::Proof, check::quoted(today), proof::DATE);
    if let Some(by) = by {
        lines.push_str(&format!("  {}: {}\n", proof::BY, check::quoted(by)));
    }
    lines.push('}');
    let edit = check::line_at_end(&book.file(id.file).text, setup, &lines)
        .ok_or_else(|| Failure::new("the setup does not end on a line of its own").help("run `rotorbook fmt` first"))?;
    desk.hold(id.file, &[edit])
}

/// The facts that the proof binds, and what is to be said of it.
fn finish(session: &mut Session, desk: &mut Desk, id: ItemId, today: &str) -> Outcome {
    if desk.is_held() {
        session.terminal.say("nothing was answered, and no proof is written");
        return Ok(Exit::Findings);
    }
    let edit: Option<Edit> = asking::taken_over(&Computing::without_explanations(&desk.book), id);
    if let Some(edit) = edit {
        let facts = edit.text.lines().filter(|line| line.contains(':')).count();
        desk.add(id.file, &[edit])?;
        session.terminal.show(&format!("\n{facts} facts and limits of today are taken over into the proof"));
    }
    let computing = Computing::without_explanations(&desk.book);
    let span = proof_of(desk, id, today).map_or(Span::at(0), |block| block.span);
    let within = |place: Span| span.start <= place.start && place.end <= span.end;
    let computed = computing.item(id);
    for entry in computed.entries().iter().filter(|entry| entry.place.0 == id.file && within(entry.place.1)) {
        let of: Vec<String> = entry.path.headings().skip(1).collect();
        let of = if of.is_empty() { String::new() } else { format!("{}: ", of.join(", ")) };
        let text = format!("{of}{} {}", entry.name(), book::text_of(&desk.book, entry));
        session.terminal.show(&harmless(&text));
    }
    let all = check::check_item(&computing, id);
    let found: Vec<_> =
        all.iter().filter(|one| one.severity != check::Severity::Note && within(one.place.span)).collect();
    found.iter().for_each(|one| findings::say(session, one));
    let name = desk.book.item(id).name_text();
    let setup = computing.setup(id).ok_or_else(|| Failure::new("the setup cannot be read"))?;
    session.terminal.say(&format!("setup \"{name}\": {}", setup.proof_in_words(desk.book.rules())));
    let is_proven = setup.proof_shows(desk.book.rules()) == ProofShows::Proven && found.is_empty();
    let stale = all.iter().filter(|one| one.rule.code == "pinned-result-stale").count();
    if stale > 0 {
        session.terminal.say(&format!("{stale} pinned results moved with it: `rotorbook pin` renews them"));
    }
    Ok(if is_proven { Exit::Clean } else { Exit::Findings })
}
