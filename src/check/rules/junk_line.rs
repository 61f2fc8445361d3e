use crate::check::{Draft, Rule, Run, Severity, Slip};
use crate::syntax::SyntaxErrorKind;
use crate::text::Edit;

pub static RULE: Rule = Rule {
    code: "junk-line",
    severity: Severity::Error,
    title: "A line is none of the forms that the format knows",
    page: include_str!("junk_line.md"),
    run: Run::Syntax(SyntaxErrorKind::JunkLine, say),
};

/// What other notations begin a remark with.
const REMARKS: [&str; 8] = ["//", "/*", "--", ";", "%", "'", "!", "==="];

fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.found();
    let draft = slip.draft(format!("`{}` is no fact, no result and no block", slip.shown()));
    let marker = REMARKS.iter().find(|marker| found.starts_with(**marker));
    let remark = marker.is_some() || !found.contains(|c: char| c.is_ascii_digit() || c == '[');
    match remark {
        true => {
            let instead = Edit::insert(slip.span().start, "# ");
            slip.offer(draft.help("a remark begins with `#`"), instead)
        }
        false => draft.help(FORMS),
    }
}

const FORMS: &str = "a fact is written `mass: 4.82 kg`, a result to be checked `mass => 4.82 kg`, a block `plane hub {` … `}`, \
     and a remark begins with `#`";
