//! Which lines an editor may fold away.

use crate::book::SourceFile;
use crate::syntax::{LineKind, Node, Tree};
use crate::text::Span;

/// From the end of the line that stays visible to the end of the last line that is folded away.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Fold {
    pub span: Span,
    pub kind: FoldKind,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FoldKind {
    Block,
    /// Comment lines that stand together.
    Comment,
}

/// The folds of a file, in the order of their first lines.
pub fn folds(source: &SourceFile) -> Vec<Fold> {
    let tree = source.tree();
    let mut folds = Vec::new();
    blocks(tree, &tree.top, &mut folds);
    comments(tree, &mut folds);
    folds.sort_by_key(|fold| (fold.span.start, fold.span.end));
    folds
}

/// A block folds to its heading and its closing brace.
fn blocks(tree: &Tree, nodes: &[Node], folds: &mut Vec<Fold>) {
    for node in nodes {
        let Node::Block(block) = node else { continue };
        let start = tree.lines[block.open as usize].span.end;
        let end = match block.close {
            Some(close) => tree.lines[close as usize - 1].span.end,
            None => block.span.end,
        };
        if end > start {
            folds.push(Fold { span: Span::new(start, end), kind: FoldKind::Block });
        }
        blocks(tree, &block.children, folds);
    }
}

fn comments(tree: &Tree, folds: &mut Vec<Fold>) {
    for run in tree.lines.chunk_by(|a, b| a.kind == LineKind::Comment && b.kind == LineKind::Comment) {
        if let [first, .., last] = run {
            folds.push(Fold { span: Span::new(first.span.end, last.span.end), kind: FoldKind::Comment });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folded(text: &str) -> Vec<String> {
        let source = SourceFile::read("a.rotor", text);
        folds(&source).iter().map(|fold| fold.span.of(text).to_owned()).collect()
    }

    #[test]
    fn blocks_fold_between_their_heading_and_their_brace() {
        let text = "rotor a {\n  plane hub { # c\n    at: 3 mm\n  }\n}\n";
        let inner = "\n    at: 3 mm";
        assert_eq!(folded(text), ["\n  plane hub { # c\n    at: 3 mm\n  }", inner]);
    }

    #[test]
    fn comments_that_stand_together_fold() {
        assert_eq!(folded("# a\n# b\n# c\n\n# d\n"), ["\n# b\n# c"]);
    }

    #[test]
    fn an_empty_block_does_not_fold_and_an_unclosed_one_does() {
        assert_eq!(folded("rotor a {\n}\n"), Vec::<String>::new());
        assert_eq!(folded("rotor a {\n  mass: 3 kg\n\n\n"), ["\n  mass: 3 kg"]);
    }
}
