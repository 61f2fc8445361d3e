use crate::check::{Draft, Rule, Run, Severity, Lapse};
use crate::syntax::SyntaxErrorKind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "text-around-close",
    severity: Severity::Error,
    title: "Something else stands on the line that closes a block",
    page: include_str!("text_around_close.md"),
    run: Run::Syntax(SyntaxErrorKind::TextAroundClose, say),
};

fn say(lapse: &Lapse<'_>) -> Draft {
    let found = lapse.found();
    let message = match found.bytes().all(|byte| matches!(byte, b'}' | b' ' | b'\t')) {
        true => format!("`{}` stands on the line of something else", lapse.shown()),
        false => format!("`{}` stands on the line of a `}}`", lapse.shown()),
    };
    if lapse.edit().is_some() {
        return lapse.say(message, ADVICE);
    }
    let draft = lapse.draft(message);
    match found {
        ";" | "," | "." => lapse.offer(draft.help("write `}` alone"), Edit::delete(lapse.span())),
        _ if found.contains([':', '=', '{', '}']) => draft.help(ADVICE),
        _ => {
            let remark = Edit::insert(lapse.span().start, "# ");
            lapse.offer(draft.help("a remark begins with `#`"), remark)
        }
    }
}

const ADVICE: &str = "a `}` stands on a line of its own";
