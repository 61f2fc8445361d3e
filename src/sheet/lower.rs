//! The tree's lines become the fields and pins of blocks.

use super::amount::{self, Stated};
use super::block::{Block, Field, FieldValue, NameAt, Pin, PinValue};
use super::head::{Expected, HeadOf, name_at, read_head};
use super::problem::{FactProblem, FactProblemKind as P};
use super::synonyms;
use super::value::Reader;
use crate::syntax::{self, Amount, Expr, Fact, Head, Kind, LineKind, Node, Shape, Tree, Value};
use crate::text::Span;
use crate::units::Unit;
use crate::vocabulary::{BlockSpec, NameOf};
use rustc_hash::FxHashMap;

/// The facts of one file.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    pub items: Vec<Block>,
    pub problems: Vec<FactProblem>,
}

/// Reads the facts of a parsed file. Never fails: what cannot be read leaves a hole and a problem.
pub fn lower(text: &str, tree: &Tree) -> Sheet {
    let mut lowering = Lowering { text, tree, problems: Vec::new(), planes: Vec::new() };
    let items = lowering.blocks(&tree.top, None);
    let mut problems = lowering.problems;
    problems.sort_by_key(|problem| problem.span);
    Sheet { items, problems }
}

struct Lowering<'a> {
    text: &'a str,
    tree: &'a Tree,
    problems: Vec<FactProblem>,
    /// The planes of the rotor that is being read, whose names may stand as keys of its tolerance.
    planes: Vec<&'a str>,
}

impl<'a> Lowering<'a> {
    fn report(&mut self, span: Span, kind: P) {
        self.problems.push(FactProblem { span, kind });
    }

    /// The blocks among `nodes` that may be in a block of kind `parent`; the parser has reported the others.
    fn blocks(&mut self, nodes: &'a [Node], parent: Option<Kind>) -> Vec<Block> {
        let mut blocks: Vec<Block> = Vec::new();
        let mut first: FxHashMap<(Kind, Box<str>), Span> = FxHashMap::default();
        for node in nodes {
            let Node::Block(node) = node else { continue };
            let LineKind::Open(open) = &self.tree.lines[node.open as usize].kind else { continue };
            if open.kind.stands_in(parent) {
                let block = self.block(node, open);
                self.twice(&mut first, &block);
                blocks.push(block);
            }
        }
        blocks
    }

    /// Two inner blocks of one kind and name cannot both hold; an assembly may have the same part in two places, and
    /// a plane may be corrected in several steps or with several holes.
    fn twice(&mut self, first: &mut FxHashMap<(Kind, Box<str>), Span>, block: &Block) {
        if block.kind.is_item() || matches!(block.kind, Kind::MadeOf | Kind::Correction | Kind::Traverse) {
            return;
        }
        let first = *first.entry((block.kind, block.name_text().into())).or_insert(block.heading);
        if first != block.heading {
            self.report(block.heading, P::BlockTwice { block: block.kind, first });
        }
    }

    fn block(&mut self, node: &'a syntax::Block, open: &'a syntax::Open) -> Block {
        if open.kind == Kind::Rotor {
            self.planes = self.planes_of(&node.children);
        }
        let heading = open.name.as_ref().map_or(open.kind_span, |name| open.kind_span.to(name.span));
        let name = open.name.as_ref().map(name_at);
        self.heading(open.kind, heading, name.as_ref());
        let mut block = Block {
            kind: open.kind,
            name,
            heading,
            span: node.span,
            body: self.tree.lines[node.open as usize].span.end,
            end: node.close.map_or(node.span.end, |line| self.tree.lines[line as usize].span.start),
            fields: Vec::new(),
            pins: Vec::new(),
            blocks: self.blocks(&node.children, Some(open.kind)),
        };
        for child in &node.children {
            let Node::Line(line) = child else { continue };
            match &self.tree.lines[*line as usize].kind {
                LineKind::Fact(fact) => self.fact(&mut block, fact),
                LineKind::Pin(pin) => {
                    let pin = self.pin(pin);
                    block.pins.push(pin);
                }
                _ => {}
            }
        }
        self.facts_and_pins(&block);
        block.fields.shrink_to_fit();
        block
    }

    fn planes_of(&self, nodes: &[Node]) -> Vec<&'a str> {
        let opens = nodes.iter().filter_map(|node| match node {
            Node::Block(block) => match &self.tree.lines[block.open as usize].kind {
                LineKind::Open(open) if open.kind == Kind::Plane => open.name.as_ref(),
                _ => None,
            },
            Node::Line(_) => None,
        });
        opens.map(|name| &*name.text).collect()
    }

    fn heading(&mut self, kind: Kind, heading: Span, name: Option<&NameAt>) {
        match (kind.takes_name(), name) {
            (true, None) => self.report(heading, P::BlockNeedsName { block: kind }),
            (false, Some(_)) => self.report(heading, P::BlockTakesNoName { block: kind }),
            _ => {}
        }
    }

    fn fact(&mut self, block: &mut Block, fact: &Fact) {
        let Some(Expected { key, value: value_type, name }) = self.head(block.spec(), &fact.head) else { return };
        let mut reader = Reader::new(self.text, &mut self.problems);
        let value = reader.read(&fact.value, value_type, key);
        let mut field = Field { key, name, head: fact.head.span, value, value_span: fact.value.span };
        if !key.repeats {
            let same = block.fields.iter_mut().find(|other| {
                std::ptr::eq(other.key, key)
                    && other.name.as_ref().map(|name| &name.text) == field.name.as_ref().map(|name| &name.text)
            });
            if let Some(first) = same {
                first.value = FieldValue::Hole;
                field.value = FieldValue::Hole;
                let first = first.head;
                self.report(field.head, P::GivenTwice { first });
            }
        }
        block.fields.push(field);
    }

    /// Which key a head is, and the name in it.
    fn head(&mut self, spec: &'static BlockSpec, head: &Head) -> Option<Expected> {
        let problem = match read_head(self.text, spec, head, |name| self.planes.contains(&name)) {
            HeadOf::Fact(expected) => return Some(expected),
            HeadOf::NeedsName(key) => P::KeyNeedsName { key },
            HeadOf::NeedsQuotes => P::NameNeedsQuotes,
            HeadOf::Unknown => {
                let words = head.words.map(|words| words.of(self.text));
                let words = words.or(head.name.as_ref().map(|name| &*name.text))?;
                P::UnknownKey { block: spec.kind, suggestion: synonyms::key(words, spec) }
            }
        };
        self.report(head.span, problem);
        None
    }

    fn pin(&mut self, pin: &syntax::Pin) -> Pin {
        let mut name = pin.head.words.map_or_else(String::new, |words| collapse(words.of(self.text)));
        if let Some(quoted) = &pin.head.name {
            if !name.is_empty() {
                name.push(' ');
            }
            name.push_str(&quoted.text);
        }
        let value = self.pin_value(&pin.value).unwrap_or(PinValue::Hole);
        Pin { name: name.into(), head: pin.head.span, value, value_span: pin.value.span }
    }

    fn pin_value(&mut self, value: &Value) -> Option<PinValue> {
        match &value.shape {
            Shape::Nothing | Shape::Broken => None,
            Shape::Unknown => Some(PinValue::Unknown),
            Shape::Amount(amount) => Some(PinValue::Amount(self.written(amount)?)),
            Shape::Reading(reading) => {
                let amount = self.written(&reading.amount)?;
                Some(match &reading.angle {
                    Some(angle) => PinValue::Vector { amount, angle: self.written(angle)? },
                    None => PinValue::Amount(amount),
                })
            }
            Shape::Grade { number, .. } => {
                let unit = Unit::MILLIMETRE_PER_SECOND;
                let half_step = half_step(number.last_digit) * unit.factor();
                let base = unit.to_base(number.value);
                Some(PinValue::Amount(Stated { base, unit, half_step, limits: None, plain: false }))
            }
            Shape::Quoted(name) => Some(PinValue::Words(name.text.clone())),
            _ => Some(PinValue::Words(collapse(value.span.of(self.text)).into())),
        }
    }

    /// A pinned amount is compared by the digits it is written with, plain numbers too.
    fn written(&mut self, amount: &Amount) -> Option<Stated> {
        let mut stated = amount::evaluate(self.text, amount, &mut self.problems)?;
        let literal = match &amount.expr {
            Expr::Literal(literal) => Some(literal),
            Expr::Negative { inner, .. } => match &**inner {
                Expr::Literal(literal) => Some(literal),
                _ => None,
            },
            _ => None,
        };
        if let Some(literal) = literal {
            stated.half_step = half_step(literal.number.last_digit) * stated.unit.factor();
        }
        Some(stated)
    }

    fn facts_and_pins(&mut self, block: &Block) {
        for pin in &block.pins {
            let fact = block.fields.iter().find(|field| {
                (field.name.is_none() && *field.key.name == *pin.name)
                    || named_head(block, field).is_some_and(|head| *head == *pin.name)
            });
            if let Some(fact) = fact {
                self.problems.push(FactProblem { span: pin.head, kind: P::FactAndPin { fact: fact.head } });
            }
        }
    }
}

/// A head with a name in it, as a pin of the same would be called.
fn named_head(block: &Block, field: &Field) -> Option<String> {
    let name = field.name.as_ref()?;
    let is_named_alone = block.spec().named_facts.as_ref().is_some_and(|named| std::ptr::eq(field.key, &named.spec));
    match field.key.head_name {
        Some(NameOf::Channel | NameOf::Place) => Some(format!("{} {}", field.key.name, name.text)),
        None if is_named_alone => Some(name.text.to_string()),
        _ => None,
    }
}

fn half_step(last_digit: i16) -> f64 {
    0.5 * 10f64.powi(i32::from(last_digit))
}

fn collapse(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}
