//! Semantic tokens.

use super::file;
use crate::ide::{self, Token, TokenKind};
use crate::server::protocol::{
    SemanticToken, SemanticTokenModifier, SemanticTokenType, SemanticTokens, SemanticTokensLegend,
    SemanticTokensParams, SemanticTokensRangeParams,
};
use crate::server::snapshot::{FileView, View};
use crate::text::Span;

const KINDS: [TokenKind; 9] = [
    TokenKind::Kind,
    TokenKind::Key,
    TokenKind::Name,
    TokenKind::Number,
    TokenKind::Unit,
    TokenKind::Operator,
    TokenKind::Choice,
    TokenKind::Text,
    TokenKind::Comment,
];

const DESCRIBES: u32 = 1;
const PINNED: u32 = 2;

/// Names that the themes of editors know.
pub(in crate::server) fn legend() -> SemanticTokensLegend {
    let name = |kind: TokenKind| match kind {
        TokenKind::Kind => SemanticTokenType::KEYWORD,
        TokenKind::Key => SemanticTokenType::PROPERTY,
        TokenKind::Name => SemanticTokenType::VARIABLE,
        TokenKind::Number => SemanticTokenType::NUMBER,
        TokenKind::Unit => SemanticTokenType::TYPE,
        TokenKind::Operator => SemanticTokenType::OPERATOR,
        TokenKind::Choice => SemanticTokenType::ENUM_MEMBER,
        TokenKind::Text => SemanticTokenType::STRING,
        TokenKind::Comment => SemanticTokenType::COMMENT,
    };
    SemanticTokensLegend {
        token_types: KINDS.map(name).to_vec(),
        token_modifiers: vec![SemanticTokenModifier::DECLARATION, SemanticTokenModifier::READONLY],
    }
}

pub(in crate::server) fn full(view: &View, params: &SemanticTokensParams) -> Option<SemanticTokens> {
    Some(tokens(file(view, &params.text_document.uri)?, None))
}

pub(in crate::server) fn range(view: &View, params: &SemanticTokensRangeParams) -> Option<SemanticTokens> {
    let file = file(view, &params.text_document.uri)?;
    let range = file.places().span(params.range);
    Some(tokens(file, Some(range)))
}

/// Each token by how far it lies from the one before.
fn tokens(file: FileView<'_>, range: Option<Span>) -> SemanticTokens {
    let places = file.places();
    let (mut line, mut column) = (0, 0);
    let each = ide::tokens(file.book().file(file.file), range);
    let each = each.into_iter().map(|token| {
        let (start, end) = (places.position(token.span.start), places.position(token.span.end));
        let on_same_line = start.line == line;
        let delta_start = if on_same_line { start.character - column } else { start.character };
        let delta_line = start.line - line;
        (line, column) = (start.line, start.character);
        SemanticToken {
            delta_line,
            delta_start,
            length: end.character.saturating_sub(start.character),
            token_type: KINDS.iter().position(|kind| *kind == token.kind).unwrap_or_default() as u32,
            token_modifiers_bitset: modifiers(&token),
        }
    });
    SemanticTokens { result_id: None, data: each.collect() }
}

fn modifiers(token: &Token) -> u32 {
    u32::from(token.describes) * DESCRIBES + u32::from(token.pinned) * PINNED
}
