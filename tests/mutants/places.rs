//! The places of a source text that a mutant may change, and what each becomes.

use std::collections::BTreeSet;
use std::ops::Range;

use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{BinOp, Expr, Lit, Stmt};

/// A stretch of text that becomes another one.
pub struct Place {
    /// From 1.
    pub line: usize,
    pub range: Range<usize>,
    pub mutated: Vec<Piece>,
}

/// What a mutated text is put together from: the source, in which other mutants may sit, and words of its own.
pub enum Piece {
    Source(Range<usize>),
    Words(&'static str),
}

impl Place {
    /// What stands there in the end, other mutants asleep.
    pub fn mutated_text(&self, source: &str) -> String {
        let pieces = self.mutated.iter().map(|piece| match piece {
            Piece::Words(words) => words,
            Piece::Source(range) => &source[range.clone()],
        });
        pieces.collect()
    }
}

/// Literals below this are there for rounding only: one per cent of them changes nothing.
const ROUNDING: f64 = 1e-5;

/// The names of the `f64` constants of a source text, with which thresholds are compared.
pub fn constants(file: &syn::File) -> BTreeSet<String> {
    struct Constants(BTreeSet<String>);
    impl<'a> Visit<'a> for Constants {
        fn visit_item_const(&mut self, item: &'a syn::ItemConst) {
            if matches!(&*item.ty, syn::Type::Path(path) if path.path.is_ident("f64")) {
                self.0.insert(item.ident.to_string());
            }
        }
    }
    let mut constants = Constants(BTreeSet::new());
    constants.visit_file(file);
    constants.0
}

/// All places of a source text in their order. Left out are tests, what is worked out at compile time, patterns, types and
/// the insides of macros.
pub fn places(file: &syn::File, constants: &BTreeSet<String>) -> Vec<Place> {
    let mut finder = Finder { constants, found: Vec::new() };
    finder.visit_file(file);
    finder.found.sort_by_key(|place| (place.range.start, place.range.end));
    finder.found
}

struct Finder<'c> {
    constants: &'c BTreeSet<String>,
    found: Vec<Place>,
}

fn bytes(part: &impl Spanned) -> Range<usize> {
    part.span().byte_range()
}

fn is_of_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| attribute.path().is_ident("cfg"))
}

/// What is in place of an operator. The types decide, in the end the compiler, where it may. A comparison is turned round:
/// `<` for `<=` would differ at equality alone, which measured amounts do not come to.
fn other_operator(operator: &BinOp) -> Option<&'static str> {
    Some(match operator {
        BinOp::Add(_) => "-",
        BinOp::Sub(_) => "+",
        BinOp::Mul(_) => "/",
        BinOp::Div(_) => "*",
        BinOp::And(_) => "||",
        BinOp::Or(_) => "&&",
        BinOp::Lt(_) => ">",
        BinOp::Le(_) => ">=",
        BinOp::Gt(_) => "<",
        BinOp::Ge(_) => "<=",
        BinOp::AddAssign(_) => "-=",
        BinOp::SubAssign(_) => "+=",
        BinOp::MulAssign(_) => "/=",
        BinOp::DivAssign(_) => "*=",
        _ => return None,
    })
}

/// Whether a condition binds a name, `if let` or `… && let`; such a one cannot stand in parentheses.
fn binds(condition: &Expr) -> bool {
    match condition {
        Expr::Let(_) => true,
        Expr::Binary(binary) => binds(&binary.left) || binds(&binary.right),
        _ => false,
    }
}

fn float(expression: &Expr) -> Option<f64> {
    match expression {
        Expr::Lit(syn::ExprLit { lit: Lit::Float(float), .. }) => float.base10_parse().ok(),
        _ => None,
    }
}

/// Room for rounding, as in `1.0 + 1e-12`.
fn is_rounding(expression: &Expr) -> bool {
    float(expression).is_some_and(|value| value > 0.0 && value < ROUNDING)
}

impl Finder<'_> {
    fn note(&mut self, whole: &impl Spanned, mutated: Vec<Piece>) {
        self.found.push(Place { line: whole.span().start().line, range: bytes(whole), mutated });
    }

    fn condition(&mut self, condition: &Expr) {
        if !binds(condition) {
            self.note(condition, vec![Piece::Words("!("), Piece::Source(bytes(condition)), Piece::Words(")")]);
        }
    }

    /// What a function returns: nothing where it would return something.
    fn returned(&mut self, value: &Expr) {
        if let Expr::Call(call) = value
            && matches!(&*call.func, Expr::Path(path) if path.path.is_ident("Some"))
        {
            self.note(value, vec![Piece::Words("None")]);
        }
    }

    fn body(&mut self, block: &syn::Block) {
        if let Some(Stmt::Expr(value, None)) = block.stmts.last() {
            self.returned(value);
        }
    }
}

impl<'a> Visit<'a> for Finder<'_> {
    fn visit_item_mod(&mut self, module: &'a syn::ItemMod) {
        if !is_of_tests(&module.attrs) {
            visit::visit_item_mod(self, module);
        }
    }

    fn visit_item_const(&mut self, _: &'a syn::ItemConst) {}
    fn visit_item_static(&mut self, _: &'a syn::ItemStatic) {}
    fn visit_impl_item_const(&mut self, _: &'a syn::ImplItemConst) {}
    fn visit_pat(&mut self, _: &'a syn::Pat) {}
    fn visit_type(&mut self, _: &'a syn::Type) {}
    fn visit_generic_argument(&mut self, _: &'a syn::GenericArgument) {}
    fn visit_attribute(&mut self, _: &'a syn::Attribute) {}

    fn visit_item_fn(&mut self, function: &'a syn::ItemFn) {
        if function.sig.constness.is_none() && !is_of_tests(&function.attrs) {
            self.body(&function.block);
            self.visit_block(&function.block);
        }
    }

    fn visit_impl_item_fn(&mut self, function: &'a syn::ImplItemFn) {
        if function.sig.constness.is_none() {
            self.body(&function.block);
            self.visit_block(&function.block);
        }
    }

    fn visit_arm(&mut self, arm: &'a syn::Arm) {
        if let syn::Pat::Guard(pattern) = &arm.pat {
            self.condition(&pattern.guard);
            self.visit_expr(&pattern.guard);
        }
        visit::visit_arm(self, arm);
    }

    fn visit_expr(&mut self, expression: &'a Expr) {
        match expression {
            Expr::If(branch) => self.condition(&branch.cond),
            Expr::Return(returned) => {
                if let Some(value) = &returned.expr {
                    self.returned(value);
                }
            }
            Expr::Binary(binary) if !binds(expression) && !is_rounding(&binary.right) => {
                if let Some(other) = other_operator(&binary.op) {
                    let (left, right) = (bytes(&binary.left), bytes(&binary.right));
                    let assigns = other.ends_with('=') && other.len() == 2 && !other.starts_with(['<', '>']);
                    let mutated = match assigns {
                        true => vec![Piece::Source(left), Piece::Words(other), Piece::Source(right)],
                        false => vec![
                            Piece::Words("("),
                            Piece::Source(left),
                            Piece::Words(") "),
                            Piece::Words(other),
                            Piece::Words(" ("),
                            Piece::Source(right),
                            Piece::Words(")"),
                        ],
                    };
                    self.note(expression, mutated);
                }
            }
            Expr::Lit(_) => {
                if let Some(value) = float(expression)
                    && (value == 0.0 || value >= ROUNDING)
                {
                    let more = if value == 0.0 { " + 1.0" } else { " * 1.01" };
                    self.note(expression, vec![Piece::Source(bytes(expression)), Piece::Words(more)]);
                }
            }
            Expr::Path(path) => {
                let last = path.path.segments.last().map(|segment| segment.ident.to_string());
                if last.is_some_and(|name| self.constants.contains(&name)) {
                    self.note(expression, vec![Piece::Source(bytes(expression)), Piece::Words(" * 1.01")]);
                }
            }
            Expr::MethodCall(call) if call.args.len() == 1 && (call.method == "min" || call.method == "max") => {
                let other = if call.method == "min" { ").max(" } else { ").min(" };
                self.note(
                    expression,
                    vec![
                        Piece::Words("("),
                        Piece::Source(bytes(&call.receiver)),
                        Piece::Words(other),
                        Piece::Source(bytes(&call.args)),
                        Piece::Words(")"),
                    ],
                );
            }
            Expr::Repeat(repeat) => return self.visit_expr(&repeat.expr),
            Expr::Const(_) => return,
            _ => {}
        }
        visit::visit_expr(self, expression);
    }
}
