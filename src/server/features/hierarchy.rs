//! `textDocument/prepareCallHierarchy` and `prepareTypeHierarchy`: who is worked out from whom, and which setup is like
//! which.

use super::{at, file};
use crate::book::{Computing, ItemId};
use crate::ide::{self, Related};
use crate::server::protocol::{
    CallHierarchyIncomingCall, CallHierarchyIncomingCallsParams, CallHierarchyItem, CallHierarchyOutgoingCall,
    CallHierarchyOutgoingCallsParams, CallHierarchyPrepareParams, Position, Range, TypeHierarchyItem,
    TypeHierarchyPrepareParams, Url,
};
use crate::server::snapshot::{FileView, View};
use crate::syntax::Kind;

pub(in crate::server) fn calls(view: &View, params: &CallHierarchyPrepareParams) -> Option<Vec<CallHierarchyItem>> {
    let (file, offset) = at(view, &params.text_document_position_params)?;
    let item = ide::item_meant(file.book(), file.file, offset)?;
    Some(call(file, item).into_iter().collect())
}

pub(in crate::server) fn incoming(
    view: &View,
    params: &CallHierarchyIncomingCallsParams,
) -> Option<Vec<CallHierarchyIncomingCall>> {
    let (file, item) = meant(view, &params.item.uri, params.item.selection_range.start)?;
    let users = ide::worked_out_from(file.book(), item).into_iter();
    let call = |user: Related| {
        Some(CallHierarchyIncomingCall { from: call(file, user.item)?, from_ranges: ranges(file, user.item, &user) })
    };
    Some(users.filter_map(call).collect())
}

pub(in crate::server) fn outgoing(
    view: &View,
    params: &CallHierarchyOutgoingCallsParams,
) -> Option<Vec<CallHierarchyOutgoingCall>> {
    let (file, item) = meant(view, &params.item.uri, params.item.selection_range.start)?;
    let used = ide::rests_on(file.book(), item).into_iter();
    let call = |used: Related| {
        Some(CallHierarchyOutgoingCall { to: call(file, used.item)?, from_ranges: ranges(file, item, &used) })
    };
    Some(used.filter_map(call).collect())
}

pub(in crate::server) fn types(view: &View, params: &TypeHierarchyPrepareParams) -> Option<Vec<TypeHierarchyItem>> {
    let (file, offset) = at(view, &params.text_document_position_params)?;
    let item = ide::item_meant(file.book(), file.file, offset)?;
    (file.book().item(item).kind == Kind::Setup).then(|| kind_of(file, item).into_iter().collect())
}

/// The setup that a setup is like.
pub(in crate::server) fn supertypes(view: &View, item: &TypeHierarchyItem) -> Option<Vec<TypeHierarchyItem>> {
    let (file, item) = meant(view, &item.uri, item.selection_range.start)?;
    Some(ide::like_which(file.book(), item).and_then(|item| kind_of(file, item)).into_iter().collect())
}

/// The setups that are like a setup.
pub(in crate::server) fn subtypes(view: &View, item: &TypeHierarchyItem) -> Option<Vec<TypeHierarchyItem>> {
    let (file, item) = meant(view, &item.uri, item.selection_range.start)?;
    Some(ide::like_this(file.book(), item).into_iter().filter_map(|item| kind_of(file, item)).collect())
}

/// The item whose heading is at a position.
fn meant<'v>(view: &'v View, url: &Url, position: Position) -> Option<(FileView<'v>, ItemId)> {
    let file = file(view, url)?;
    let offset = file.places().offset(position);
    Some((file, ide::item_near(file.book(), file.file, offset, |_| true)?))
}

fn ranges(file: FileView<'_>, naming: ItemId, related: &Related) -> Vec<Range> {
    let places = file.places_of(naming.file);
    related.names.iter().map(|span| places.range(*span)).collect()
}

/// An item as both hierarchies show it.
struct Shown {
    name: String,
    detail: Option<String>,
    uri: Url,
    range: Range,
    selection_range: Range,
}

fn shown(file: FileView<'_>, id: ItemId) -> Option<Shown> {
    let item = file.book().item(id);
    let places = file.places_of(id.file);
    let headline = ide::headline(file.book(), &Computing::new(file.book()).item(id), None);
    Some(Shown {
        name: format!("{} {}", item.kind, item.name_text()).trim().to_owned(),
        detail: (!headline.is_empty()).then_some(headline),
        uri: file.url(id.file)?,
        range: places.range(item.span),
        selection_range: places.range(item.heading),
    })
}

fn call(file: FileView<'_>, id: ItemId) -> Option<CallHierarchyItem> {
    let Shown { name, detail, uri, range, selection_range } = shown(file, id)?;
    let kind = super::symbols::kind(file.book().item(id).kind);
    Some(CallHierarchyItem { name, kind, tags: None, detail, uri, range, selection_range, data: None })
}

fn kind_of(file: FileView<'_>, id: ItemId) -> Option<TypeHierarchyItem> {
    let Shown { name, detail, uri, range, selection_range } = shown(file, id)?;
    let kind = super::symbols::kind(file.book().item(id).kind);
    Some(TypeHierarchyItem { name, kind, tags: None, detail, uri, range, selection_range, data: None })
}
