//! The language server. The only place that knows the protocol, tower-lsp and tokio.

mod client;
mod convert;
mod judged;
mod settings;
mod wire;
mod desk {
    mod document;
}
