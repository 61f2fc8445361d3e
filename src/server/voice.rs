//! What the server says of its own accord: diagnostics, progress, questions to the client.
//!
//! One task says everything, in order. Nobody waits for it: while the client does not read, what is newer takes the
//! place of what has not been said yet. Answers of the client are waited for elsewhere, and not for ever.

use std::collections::{HashMap, VecDeque};
use std::time::Duration;

use serde_json::Value;
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender, unbounded_channel};
use tokio::time::timeout;

use super::client::Refreshes;
use super::protocol::Wire;
use super::protocol::notification::{Notification, Progress as ProgressNotification, PublishDiagnostics};
use super::protocol::request::{
    ApplyWorkspaceEdit, CodeLensRefresh, InlayHintRefreshRequest, RegisterCapability, Request, SemanticTokensRefresh,
    WorkDoneProgressCreate, WorkspaceConfiguration, WorkspaceDiagnosticRefresh,
};
use super::protocol::{
    ApplyWorkspaceEditParams, ConfigurationItem, ConfigurationParams, MessageType, NumberOrString, ProgressParams,
    ProgressParamsValue, PublishDiagnosticsParams, Registration, RegistrationParams, Url, WorkDoneProgress,
    WorkDoneProgressBegin, WorkDoneProgressCreateParams, WorkDoneProgressEnd, WorkDoneProgressReport, WorkspaceEdit,
};
use super::settings::SECTION;
use super::wire::Output;

/// Bytes that may wait for the client before the rest is held back.
const MOST_WAITING: usize = 256 * 1024;

/// How long a client may take to answer a question.
const PATIENCE: Duration = Duration::from_secs(10);

/// Something to be said.
pub(super) enum Say {
    Diagnostics(PublishDiagnosticsParams),
    Progress(i32, Step),
    /// The client should ask again for what it shows.
    Refresh(Refreshes),
    Register(Vec<Registration>),
    /// The settings of the section are wanted; they go to whoever asks.
    Settings(Box<dyn FnOnce(Value) + Send>),
    Log(MessageType, String),
    /// The same, shown to the person.
    Show(MessageType, String),
    /// The editor should make an edit, which has this name.
    Edit(String, WorkspaceEdit),
}

/// A step of long work.
#[derive(Clone, Debug)]
pub(super) enum Step {
    Begin(String),
    /// So many of so many are done.
    Done(usize, usize),
    End,
}

/// Where things to be said are put.
#[derive(Clone)]
pub(super) struct Voice {
    sender: UnboundedSender<Say>,
}

impl Voice {
    /// A voice, and what comes out of it, which [`speak`] says.
    pub fn new() -> (Self, UnboundedReceiver<Say>) {
        let (sender, said) = unbounded_channel();
        (Self { sender }, said)
    }

    pub fn say(&self, what: Say) {
        // Nobody listens any more when the session is over.
        let _ = self.sender.send(what);
    }
}

/// Says what is put into the voice, until it is dropped.
pub(super) async fn speak(mut said: UnboundedReceiver<Say>, client: Wire, output: Output) {
    let mut speaker = Speaker { client, progress: HashMap::new() };
    let mut waiting = Waiting::default();
    while let Some(first) = said.recv().await {
        waiting.put(first);
        while !waiting.is_empty() {
            output.until_backlog_is(MOST_WAITING).await;
            while let Ok(more) = said.try_recv() {
                waiting.put(more);
            }
            if let Some(next) = waiting.take() {
                speaker.say(next).await;
            }
        }
    }
}

/// What waits to be said, in order; of the diagnostics of a file only the newest.
#[derive(Default)]
struct Waiting {
    order: VecDeque<Turn>,
    diagnostics: HashMap<Url, PublishDiagnosticsParams>,
}

enum Turn {
    DiagnosticsOf(Url),
    Other(Say),
}

impl Waiting {
    fn put(&mut self, what: Say) {
        match what {
            Say::Diagnostics(params) => {
                let url = params.uri.clone();
                if self.diagnostics.insert(url.clone(), params).is_none() {
                    self.order.push_back(Turn::DiagnosticsOf(url));
                }
            }
            other => self.order.push_back(Turn::Other(other)),
        }
    }

    fn take(&mut self) -> Option<Say> {
        match self.order.pop_front()? {
            Turn::Other(say) => Some(say),
            Turn::DiagnosticsOf(url) => self.diagnostics.remove(&url).map(Say::Diagnostics),
        }
    }

    fn is_empty(&self) -> bool {
        self.order.is_empty()
    }
}

struct Speaker {
    client: Wire,
    /// Where the steps of each piece of work go.
    progress: HashMap<i32, UnboundedSender<Step>>,
}

impl Speaker {
    async fn say(&mut self, what: Say) {
        match what {
            Say::Diagnostics(params) => self.notify::<PublishDiagnostics>(params).await,
            Say::Log(kind, message) => self.client.log_message(kind, message).await,
            Say::Show(kind, message) => self.client.show_message(kind, message).await,
            Say::Register(registrations) => {
                self.ask::<RegisterCapability>(RegistrationParams { registrations }, |_| {});
            }
            Say::Settings(answer) => {
                let item = ConfigurationItem { scope_uri: None, section: Some(SECTION.to_owned()) };
                let params = ConfigurationParams { items: vec![item] };
                self.ask::<WorkspaceConfiguration>(params, |mut values| {
                    if let Some(value) = values.pop() {
                        answer(value);
                    }
                });
            }
            Say::Edit(label, edit) => {
                let params = ApplyWorkspaceEditParams { label: Some(label), edit };
                self.ask::<ApplyWorkspaceEdit>(params, |_| {});
            }
            Say::Refresh(refreshes) => self.refresh(refreshes),
            Say::Progress(work, step) => self.progress(work, step),
        }
    }

    async fn notify<N: Notification>(&self, params: N::Params) {
        self.client.send_notification::<N>(params).await;
    }

    /// Asks without waiting for the answer here.
    fn ask<R: Request>(&self, params: R::Params, answer: impl FnOnce(R::Result) + Send + 'static)
    where
        R::Params: Send + 'static,
        R::Result: Send,
    {
        let client = self.client.clone();
        tokio::spawn(async move {
            if let Ok(Ok(result)) = timeout(PATIENCE, client.send_request::<R>(params)).await {
                answer(result);
            }
        });
    }

    fn refresh(&self, refreshes: Refreshes) {
        if refreshes.diagnostics {
            self.ask::<WorkspaceDiagnosticRefresh>((), |()| {});
        }
        if refreshes.inlay_hints {
            self.ask::<InlayHintRefreshRequest>((), |()| {});
        }
        if refreshes.semantic_tokens {
            self.ask::<SemanticTokensRefresh>((), |()| {});
        }
        if refreshes.code_lenses {
            self.ask::<CodeLensRefresh>((), |()| {});
        }
    }

    fn progress(&mut self, work: i32, step: Step) {
        match step {
            Step::Begin(title) => {
                let (sender, steps) = unbounded_channel();
                self.progress.insert(work, sender);
                tokio::spawn(tell_progress(self.client.clone(), work, title, steps));
            }
            Step::Done(..) => {
                if let Some(steps) = self.progress.get(&work) {
                    let _ = steps.send(step);
                }
            }
            // The end of the steps is the end of the work.
            Step::End => _ = self.progress.remove(&work),
        }
    }
}

/// Shows the progress of one piece of work once the client has made room for it.
async fn tell_progress(client: Wire, work: i32, title: String, mut steps: UnboundedReceiver<Step>) {
    let token = NumberOrString::Number(work);
    let params = WorkDoneProgressCreateParams { token: token.clone() };
    let Ok(Ok(())) = timeout(PATIENCE, client.send_request::<WorkDoneProgressCreate>(params)).await else { return };
    report(&client, &token, begin(title)).await;
    while let Some(mut step) = steps.recv().await {
        while let Ok(newer) = steps.try_recv() {
            step = newer;
        }
        if let Step::Done(done, all) = step {
            report(&client, &token, done_of(done, all)).await;
        }
    }
    report(&client, &token, WorkDoneProgress::End(WorkDoneProgressEnd { message: None })).await;
}

async fn report(client: &Wire, token: &NumberOrString, step: WorkDoneProgress) {
    let value = ProgressParamsValue::WorkDone(step);
    client.send_notification::<ProgressNotification>(ProgressParams { token: token.clone(), value }).await;
}

fn begin(title: String) -> WorkDoneProgress {
    WorkDoneProgress::Begin(WorkDoneProgressBegin {
        title,
        cancellable: Some(false),
        message: None,
        percentage: Some(0),
    })
}

fn done_of(done: usize, all: usize) -> WorkDoneProgress {
    WorkDoneProgress::Report(WorkDoneProgressReport {
        cancellable: Some(false),
        message: Some(format!("{done} of {all} sheets")),
        percentage: u32::try_from(done * 100 / all.max(1)).ok(),
    })
}
