//! What a check has to say, as editors show it.

use super::Places;
use crate::check::{Diagnostic, Place, Related, Severity};
use crate::server::client::Client;
use crate::server::protocol::{
    self as lsp, CodeDescription, DiagnosticRelatedInformation, DiagnosticSeverity, DiagnosticTag, Location,
    NumberOrString, Url,
};

/// Finds places in other files than the one that is spoken of.
pub(in crate::server) trait Elsewhere {
    fn location(&self, place: Place) -> Option<Location>;
}

/// The diagnostic with its help below the message, as nothing else in the protocol can carry it.
pub(in crate::server) fn diagnostic(
    found: &Diagnostic,
    places: &Places<'_>,
    client: &Client,
    related: Option<&dyn Elsewhere>,
) -> lsp::Diagnostic {
    let related = related.filter(|_| !found.related.is_empty());
    lsp::Diagnostic {
        range: places.range(found.place.span),
        severity: Some(severity(found.severity)),
        code: Some(NumberOrString::String(found.rule.code.to_owned())),
        code_description: client.opens_page.then(|| page(found.rule.code)).flatten(),
        source: Some("rotorbook".to_owned()),
        message: message(found),
        related_information: related
            .map(|files| found.related.iter().filter_map(|other| information(other, files)).collect()),
        tags: (found.is_obsolete && client.tags.diagnostics).then(|| vec![DiagnosticTag::DEPRECATED]),
        data: None,
    }
}

/// Where editors that show pages of diagnostics find the one of a code.
fn page(code: &str) -> Option<CodeDescription> {
    Some(CodeDescription { href: Url::parse(&format!("rotorbook-page:/{code}.md")).ok()? })
}

fn message(found: &Diagnostic) -> String {
    match &found.help {
        Some(help) => format!("{}\nhelp: {help}", found.message),
        None => found.message.clone(),
    }
}

fn severity(severity: Severity) -> DiagnosticSeverity {
    match severity {
        Severity::Error => DiagnosticSeverity::ERROR,
        Severity::Warning => DiagnosticSeverity::WARNING,
        Severity::Note => DiagnosticSeverity::INFORMATION,
    }
}

fn information(related: &Related, files: &dyn Elsewhere) -> Option<DiagnosticRelatedInformation> {
    let location = files.location(related.place)?;
    Some(DiagnosticRelatedInformation { location, message: related.message.clone() })
}
