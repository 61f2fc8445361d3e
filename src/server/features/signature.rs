//! `textDocument/signatureHelp`

use super::at;
use crate::ide::{self, Signature};
use crate::server::client::Client;
use crate::server::convert::plain;
use crate::server::protocol::{
    Documentation, MarkupContent, MarkupKind, ParameterInformation, ParameterLabel, SignatureHelp, SignatureHelpParams,
    SignatureInformation,
};
use crate::server::snapshot::View;

pub(in crate::server) fn help(view: &View, params: &SignatureHelpParams) -> Option<SignatureHelp> {
    let (file, offset) = at(view, &params.text_document_position_params)?;
    let found = ide::signature(file.book(), file.file, offset)?;
    let part = found.part as u32;
    Some(SignatureHelp {
        signatures: forms(&found, &view.client),
        active_signature: Some(found.form as u32),
        active_parameter: Some(part),
    })
}

fn forms(found: &Signature, client: &Client) -> Vec<SignatureInformation> {
    let about = match client.markdown_signature {
        true => MarkupContent { kind: MarkupKind::Markdown, value: found.about.clone() },
        false => MarkupContent { kind: MarkupKind::PlainText, value: plain(&found.about) },
    };
    let form = |written: &ide::Written| {
        let parameter = |(span, meaning): &(crate::text::Span, &'static str)| {
            // Offsets of a label count as UTF-16 does, whatever positions count.
            let units = |end: u32| written.label[..end as usize].encode_utf16().count() as u32;
            let label = match client.label_offsets {
                true => ParameterLabel::LabelOffsets([units(span.start), units(span.end)]),
                false => ParameterLabel::Simple(span.of(&written.label).to_owned()),
            };
            ParameterInformation { label, documentation: Some(Documentation::String((*meaning).to_owned())) }
        };
        SignatureInformation {
            label: written.label.clone(),
            documentation: Some(Documentation::MarkupContent(about.clone())),
            parameters: Some(written.parts.iter().map(parameter).collect()),
            active_parameter: None,
        }
    };
    found.forms.iter().map(form).collect()
}
