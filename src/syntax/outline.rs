//! A tree written out in a compact form, for tests and for looking at what the reader understood.

use std::fmt::Write;

use super::{Amount, Expr, Head, Limits, LineKind, Literal, Operator, Reading, Shape, SyntaxError, Tree, Value};

/// One line for each line of the text, indented as its blocks nest, then the errors.
///
/// `spell` says how a unit is written out: as it stands, or in one spelling when two texts are to be compared.
pub fn outline(text: &str, tree: &Tree, spell: &dyn Fn(&str) -> String) -> String {
    let writer = Outline { text, spell };
    let mut out = String::new();
    for line in &tree.lines {
        let comment = line.comment.map(|comment| comment.of(text).trim_end()).unwrap_or_default();
        let code = writer.line(&line.kind, line.span.of(text));
        let indent = "  ".repeat(usize::from(line.depth));
        let row = format!("{indent}{code}{}{comment}", if code.is_empty() || comment.is_empty() { "" } else { "  " });
        out.push_str(row.trim_end());
        out.push('\n');
    }
    for error in &tree.errors {
        out.push_str(&writer.error(error));
        out.push('\n');
    }
    out
}

struct Outline<'a> {
    text: &'a str,
    spell: &'a dyn Fn(&str) -> String,
}

impl Outline<'_> {
    fn line(&self, kind: &LineKind, written: &str) -> String {
        match kind {
            LineKind::Blank | LineKind::Comment => String::new(),
            LineKind::Open(open) => {
                let name = open.name.as_ref().map(|name| format!(" {:?}", name.text)).unwrap_or_default();
                format!("open {}{name}", open.kind)
            }
            LineKind::Close(_) => "close".to_owned(),
            LineKind::Fact(fact) => format!("{}: {}", self.head(&fact.head), self.value(&fact.value)),
            LineKind::Pin(pin) => format!("{} => {}", self.head(&pin.head), self.value(&pin.value)),
            LineKind::Unfinished(head) => format!("unfinished {}", self.head(head)),
            LineKind::Junk => format!("junk {:?}", written.trim()),
            LineKind::Conflict => format!("conflict {written:?}"),
        }
    }

    fn head(&self, head: &Head) -> String {
        let words = head.words.map(|words| words.of(self.text).split_whitespace().collect::<Vec<_>>().join(" "));
        let name = head.name.as_ref().map(|name| format!("{:?}", name.text));
        [words, name].into_iter().flatten().collect::<Vec<_>>().join(" ")
    }

    fn value(&self, value: &Value) -> String {
        let words = || value.span.of(self.text).split_whitespace().collect::<Vec<_>>().join(" ");
        match &value.shape {
            Shape::Nothing => "nothing".to_owned(),
            Shape::Unknown => "not known".to_owned(),
            Shape::Quoted(name) => format!("text {:?}", name.text),
            Shape::Words => format!("words {:?}", words()),
            Shape::Grade { number, tight } => {
                format!("grade {}{}", number.span.of(self.text), if *tight { " tight" } else { "" })
            }
            Shape::Amount(amount) => self.amount(amount),
            Shape::Range { from, to } => {
                let end = |end: &Option<Expr>| end.as_ref().map(|end| self.expr(end)).unwrap_or_default();
                format!("range [{} .. {}]", end(from), end(to))
            }
            Shape::Reading(reading) => {
                let Reading { amount, scale, angle } = &**reading;
                let scale = scale.as_ref().map(|scale| format!(" on {:?}", scale.text)).unwrap_or_default();
                let angle = angle.as_ref().map(|angle| format!(" @ {}", self.amount(angle))).unwrap_or_default();
                format!("reading {}{scale}{angle}", self.amount(amount))
            }
            Shape::Weighing(weighing) => {
                format!("weighing {} at {}", self.amount(&weighing.amount), self.amount(&weighing.at))
            }
            Shape::Places { count, from } => {
                format!("places {} from {}", count.span.of(self.text), self.amount(from))
            }
            Shape::Clock { hour, minute } => format!("clock {hour}:{minute:02}"),
            Shape::Date { year, month, day } => format!("date {year:04}-{month:02}-{day:02}"),
            Shape::List(items) => {
                let items: Vec<_> = items.iter().map(|item| self.value(item)).collect();
                format!("list [{}]", items.join("; "))
            }
            Shape::Broken => format!("broken {:?}", words()),
        }
    }

    fn amount(&self, amount: &Amount) -> String {
        let mut out = self.expr(&amount.expr);
        if let Some(Limits { number, unit, expanded, .. }) = amount.limits.as_deref() {
            let unit = unit.map(|unit| format!(" {}", (self.spell)(unit.of(self.text)))).unwrap_or_default();
            let coverage = if *expanded { " expanded" } else { "" };
            let _ = write!(out, " ± {}{unit}{coverage}", number.span.of(self.text));
        }
        out
    }

    fn expr(&self, expr: &Expr) -> String {
        match expr {
            Expr::Literal(Literal { number, unit, .. }) => {
                let unit = unit.map(|unit| format!(" {}", (self.spell)(unit.of(self.text)))).unwrap_or_default();
                format!("{}{unit}", number.span.of(self.text))
            }
            Expr::Negative { inner, .. } => format!("-({})", self.expr(inner)),
            Expr::Group { inner, .. } => format!("({})", self.expr(inner)),
            Expr::Binary { operator, left, right, .. } => {
                let sign = match operator {
                    Operator::Add => '+',
                    Operator::Subtract => '-',
                    Operator::Multiply => '*',
                    Operator::Divide => '/',
                };
                format!("<{} {sign} {}>", self.expr(left), self.expr(right))
            }
        }
    }

    /// The kind, the text it is at, and the line it is on as it would be with the error mended.
    fn error(&self, error: &SyntaxError) -> String {
        let at = error.span.of(self.text);
        let mut out = format!("! {:?} at {at:?}", error.kind);
        if let Some((span, instead)) = &error.replace {
            let start = self.text[..span.start as usize].rfind('\n').map_or(0, |at| at + 1);
            let end = self.text[span.end as usize..].find('\n').map_or(self.text.len(), |at| span.end as usize + at);
            let before = &self.text[start..span.start as usize];
            let after = &self.text[span.end as usize..end];
            let _ = write!(out, " -> {:?}", format!("{before}{instead}{after}").trim());
        }
        out
    }
}
