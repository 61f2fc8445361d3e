//! What the client sends, message by message.
//!
//! The transport stops for good at the first message it cannot decode, so only what it can is handed on; the rest is
//! answered here.

use std::io::{self, BufRead, BufReader, Read, Write as _};
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll, ready};

use serde_json::{Value, json};
use tokio::io::{AsyncRead, ReadBuf};
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender, unbounded_channel};

use super::{Output, frame};
use crate::server::protocol::jsonrpc::{ErrorCode, Request, Response};

/// Is told when the session comes to its end, from the thread that reads.
pub(in crate::server) trait Watch: Send + Sync + 'static {
    /// The client has asked the process to end, or has closed the input.
    fn ending(&self);
}

/// The messages, as bytes for the transport.
pub(in crate::server) struct Input {
    messages: UnboundedReceiver<Vec<u8>>,
    current: Vec<u8>,
    done: usize,
}

/// Starts reading `source` on a thread of its own. What cannot be understood is answered through `output`.
pub(in crate::server) fn read(source: impl Read + Send + 'static, output: Output, watch: Arc<dyn Watch>) -> Input {
    let (sender, messages) = unbounded_channel();
    std::thread::spawn(move || {
        let mut reader = Reader { output, watch, sender };
        match reader.read(BufReader::with_capacity(1 << 16, source)) {
            Err(error) if error.kind() == io::ErrorKind::InvalidData => {
                // What follows cannot be told apart any more. Nobody may be listening either.
                let _ = writeln!(io::stderr(), "rotorbook lsp: the session ends: {error}");
            }
            // Half a message is the end as well: whoever sent it is gone.
            _ => {}
        }
        reader.watch.ending();
    });
    Input { messages, current: Vec::new(), done: 0 }
}

struct Reader {
    output: Output,
    watch: Arc<dyn Watch>,
    sender: UnboundedSender<Vec<u8>>,
}

impl Reader {
    fn read(&mut self, mut source: impl BufRead) -> io::Result<()> {
        let mut passed_over = 0;
        while let Some(body) = frame::next(&mut source, &mut passed_over)? {
            if std::mem::take(&mut passed_over) > 0 {
                // The client may wait for an answer that cannot come.
                let _ = writeln!(
                    io::stderr(),
                    "rotorbook lsp: input that is not a message, or has no usable header, is skipped"
                );
            }
            self.message(&body);
        }
        Ok(())
    }

    fn message(&self, body: &[u8]) {
        match serde_json::from_slice::<Request>(body) {
            Ok(request) => {
                match request.params().is_some_and(Value::is_null) {
                    true => self.hand_on(&without_params(body)),
                    false => self.hand_on(body),
                }
                if request.method() == "exit" {
                    self.watch.ending();
                }
            }
            Err(_) if serde_json::from_slice::<Response>(body).is_ok() => self.hand_on(body),
            Err(_) => self.answer(body),
        }
    }

    fn hand_on(&self, body: &[u8]) {
        // Fails only when the session is over.
        let _ = self.sender.send(frame::framed(body));
    }

    /// Answers what is no message; not what was meant to be an answer itself.
    fn answer(&self, body: &[u8]) {
        let (code, id) = match serde_json::from_slice::<Value>(body) {
            Err(_) => (ErrorCode::ParseError, Value::Null),
            Ok(value) if value.get("method").is_none() && value.get("id").is_some() => return,
            Ok(value) => (ErrorCode::InvalidRequest, value.get("id").cloned().unwrap_or_default()),
        };
        let id = if id.is_string() || id.is_i64() { id } else { Value::Null };
        let error = json!({ "code": code.code(), "message": code.description() });
        self.output.send(&json!({ "jsonrpc": "2.0", "id": id, "error": error }));
    }
}

/// A message without its `params`: some clients say `null` where there are none, which the transport refuses.
fn without_params(body: &[u8]) -> Vec<u8> {
    let mut message = serde_json::from_slice::<serde_json::Map<String, Value>>(body).unwrap_or_default();
    message.remove("params");
    serde_json::to_vec(&message).unwrap_or_default()
}

impl AsyncRead for Input {
    fn poll_read(mut self: Pin<&mut Self>, context: &mut Context<'_>, into: &mut ReadBuf<'_>) -> Poll<io::Result<()>> {
        if self.done == self.current.len() {
            match ready!(self.messages.poll_recv(context)) {
                Some(message) => (self.current, self.done) = (message, 0),
                None => return Poll::Ready(Ok(())),
            }
        }
        let rest = &self.current[self.done..];
        let count = rest.len().min(into.remaining());
        into.put_slice(&rest[..count]);
        self.done += count;
        Poll::Ready(Ok(()))
    }
}
