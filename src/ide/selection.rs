//! What a selection grows to.

use super::place::covers;
use crate::book::SourceFile;
use crate::syntax::{Amount, Expr, Head, LineKind, Name, Node, Shape, Tree, Value, is_word_part};
use crate::text::Span;

/// The pieces of text around `offset`, the smallest first; each lies within the next, and the last is the whole file.
pub fn selections(source: &SourceFile, offset: u32) -> Vec<Span> {
    let tree = source.tree();
    let mut grown = Growth { text: &source.text, offset, spans: Vec::new() };
    grown.add(Span::new(0, source.text.len() as u32));
    grown.blocks(tree, &tree.top);
    let after = tree.lines.partition_point(|line| line.span.start <= offset);
    if let Some(line) = after.checked_sub(1).map(|index| &tree.lines[index]) {
        grown.add(line.span);
        grown.line(&line.kind);
        line.comment.into_iter().for_each(|comment| grown.add(comment));
    }
    grown.word();
    let mut spans = grown.spans;
    spans.sort_by_key(|span| (span.len(), span.start));
    spans.dedup();
    // Two pieces that only touch at the cursor do not lie in one another: the one that begins there is kept.
    let mut nested: Vec<Span> = Vec::new();
    for span in spans.into_iter().rev() {
        let within = nested.last().is_none_or(|outer| outer.start <= span.start && span.end <= outer.end);
        match nested.last() {
            Some(last) if !within && last.end == offset && span.start == offset => {
                nested.pop();
                nested.push(span);
            }
            _ if within => nested.push(span),
            _ => {}
        }
    }
    nested.reverse();
    nested
}

struct Growth<'t> {
    text: &'t str,
    offset: u32,
    spans: Vec<Span>,
}

impl Growth<'_> {
    fn add(&mut self, span: Span) {
        if covers(span, self.offset) && (!span.is_empty() || self.text.is_empty()) {
            self.spans.push(span);
        }
    }

    fn blocks(&mut self, tree: &Tree, nodes: &[Node]) {
        for node in nodes {
            let Node::Block(block) = node else { continue };
            if !covers(block.span, self.offset) {
                continue;
            }
            self.add(block.span);
            if let (Some(close), Some(first)) = (block.close, tree.lines.get(block.open as usize + 1))
                && close > block.open + 1
            {
                self.add(Span::new(first.span.start, tree.lines[close as usize - 1].span.end));
            }
            self.blocks(tree, &block.children);
        }
    }

    fn line(&mut self, kind: &LineKind) {
        match kind {
            LineKind::Open(open) => {
                self.add(open.kind_span);
                if let Some(name) = &open.name {
                    self.add(open.kind_span.to(name.span));
                    self.name(name);
                }
            }
            LineKind::Fact(fact) => {
                self.add(fact.head.span.to(fact.value.span));
                self.head(&fact.head);
                self.value(&fact.value);
            }
            LineKind::Pin(pin) => {
                self.add(pin.head.span.to(pin.value.span));
                self.head(&pin.head);
                self.value(&pin.value);
            }
            LineKind::Unfinished(head) => self.head(head),
            _ => {}
        }
    }

    fn head(&mut self, head: &Head) {
        self.add(head.span);
        head.words.into_iter().for_each(|words| self.add(words));
        head.name.iter().for_each(|name| self.name(name));
    }

    /// A name, and what stands within its quotes.
    fn name(&mut self, name: &Name) {
        self.add(name.span);
        if name.quoted && name.span.len() > 2 {
            self.add(Span::new(name.span.start + 1, name.span.end - 1));
        }
    }

    fn value(&mut self, value: &Value) {
        self.add(value.span);
        match &value.shape {
            Shape::Quoted(name) => self.name(name),
            Shape::Amount(amount) => self.amount(amount),
            Shape::Range { from, to } => [from, to].into_iter().flatten().for_each(|end| self.expr(end)),
            Shape::Reading(reading) => {
                self.amount(&reading.amount);
                reading.scale.iter().for_each(|scale| self.name(scale));
                reading.angle.iter().for_each(|angle| self.amount(angle));
            }
            Shape::Weighing(weighing) => {
                self.amount(&weighing.amount);
                self.amount(&weighing.at);
            }
            Shape::Places { from, .. } => self.amount(from),
            Shape::List(values) => values.iter().for_each(|value| self.value(value)),
            _ => {}
        }
    }

    fn amount(&mut self, amount: &Amount) {
        self.add(amount.span);
        self.expr(&amount.expr);
        amount.limits.iter().for_each(|limits| self.add(limits.span));
    }

    fn expr(&mut self, expr: &Expr) {
        self.add(expr.span());
        match expr {
            Expr::Literal(literal) => {
                self.add(literal.number.span);
                literal.unit.into_iter().for_each(|unit| self.add(unit));
            }
            Expr::Negative { inner, .. } | Expr::Group { inner, .. } => self.expr(inner),
            Expr::Binary { left, right, .. } => {
                self.expr(left);
                self.expr(right);
            }
        }
    }

    /// The word at the cursor.
    fn word(&mut self) {
        let part = |c: &char| is_word_part(*c);
        let at = self.offset as usize;
        let before: usize = self.text[..at].chars().rev().take_while(part).map(char::len_utf8).sum();
        let after: usize = self.text[at..].chars().take_while(part).map(char::len_utf8).sum();
        let starts_word = self.text[at - before..].starts_with(char::is_alphabetic);
        if starts_word {
            self.add(Span::new((at - before) as u32, (at + after) as u32));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::fixture;

    fn grown(text: &str) -> Vec<String> {
        let fixture = fixture(text);
        let spans = selections(fixture.book.file(fixture.file), fixture.offset);
        for pair in spans.windows(2) {
            assert!(pair[1].start <= pair[0].start && pair[0].end <= pair[1].end, "{spans:?}");
        }
        spans.iter().map(|span| span.of(fixture.text()).to_owned()).collect()
    }

    #[test]
    fn from_a_number_to_the_whole_file() {
        let found = grown("rotor a {\n  plane hub {\n    radius: 26$08.4 mm / 2 # c\n  }\n}\n");
        let expected = [
            "268.4",
            "268.4 mm",
            "268.4 mm / 2",
            "radius: 268.4 mm / 2",
            "    radius: 268.4 mm / 2 # c",
            "plane hub {\n    radius: 268.4 mm / 2 # c\n  }",
            "  plane hub {\n    radius: 268.4 mm / 2 # c\n  }",
            "rotor a {\n  plane hub {\n    radius: 268.4 mm / 2 # c\n  }\n}",
            "rotor a {\n  plane hub {\n    radius: 268.4 mm / 2 # c\n  }\n}\n",
        ];
        assert_eq!(found, expected);
    }

    #[test]
    fn from_a_word_in_a_name() {
        let found = grown("setup s {\n  rotor: \"fan whe$0el 315\"\n}\n");
        let expected = ["wheel", "fan wheel 315", "\"fan wheel 315\"", "rotor: \"fan wheel 315\""];
        assert_eq!(found[..4], expected);
    }

    #[test]
    fn nothing_and_odd_text_have_a_selection_too() {
        assert_eq!(grown("$0"), [""]);
        assert_eq!(grown("rotor a {\n  ?? $0é\n").last().unwrap(), "rotor a {\n  ?? é\n");
    }
}
