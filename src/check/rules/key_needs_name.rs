use crate::check::{Draft, FileContext, FileEdit, facts, wording};
use crate::sheet::{FactProblem, FactProblemKind, FieldValue};
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary::{NameOf, machine};

pub(super) fn say(context: &FileContext<'_>, problem: &FactProblem) -> Option<Draft> {
    let FactProblemKind::KeyNeedsName { key } = problem.kind else { return None };
    let of = key.head_name?;
    let example = match of {
        NameOf::Place => "3: …",
        NameOf::Position => "1: …",
        _ => "left: …",
    };
    let message = format!("`{}` does not say which: it needs the name of {}", key.name, wording::name_of(of));
    let draft = context.draft(problem.span, message).help(format!("write `{} {example}`", key.name));
    let names = names(context, problem.span, of);
    Some(names.into_iter().fold(draft, |draft, name| {
        let is_number = name.bytes().all(|byte| byte.is_ascii_digit());
        let name = if is_number { name } else { wording::name_as_written(&name) };
        let written = format!("{} {name}", key.name);
        let edit = FileEdit { file: context.file, edit: Edit::replace(problem.span, written.clone()) };
        draft.choice(format!("Write `{written}: …`"), vec![edit])
    }))
}

/// The names that may be meant: the channels of the book's machines, or the next number.
fn names(context: &FileContext<'_>, span: Span, of: NameOf) -> Vec<String> {
    const MOST: usize = 6;
    match of {
        NameOf::Channel => {
            let machines = context.book.names_of(Kind::Machine).map(|(_, id)| context.book.item(id));
            let fields = machines.filter_map(|machine| machine.field(machine::CHANNELS));
            let mut names: Vec<String> = Vec::new();
            for field in fields {
                let FieldValue::Names(channels) = &field.value else { continue };
                for channel in channels.iter().map(|channel| channel.text.to_string()) {
                    if names.len() < MOST && !names.contains(&channel) {
                        names.push(channel);
                    }
                }
            }
            names
        }
        NameOf::Place | NameOf::Position => {
            let fields = facts::block_at(context.source, span).map_or(&[][..], |block| &block.fields);
            let taken = fields.iter().filter(|field| field.key.head_name == Some(of));
            let last = taken.filter_map(|field| field.name_text().parse::<u32>().ok()).max();
            vec![(last.unwrap_or(0) + 1).to_string()]
        }
        _ => Vec::new(),
    }
}
