//! Everything that is written, in a queue that never makes anybody wait.
//!
//! A thread of its own writes it. How much lies in the queue is known, so that what can be left unsaid is left unsaid
//! while a client does not read.

use std::io::{self, Write};
use std::pin::Pin;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::task::{Context, Poll};
use std::time::{Duration, Instant};

use tokio::io::AsyncWrite;
use tokio::sync::Notify;

use super::frame;

/// The way out. Copies write to the same queue.
#[derive(Clone)]
pub(in crate::server) struct Output {
    shared: Arc<Shared>,
}

struct Shared {
    queue: Mutex<Queue>,
    /// Something has been put in, or written.
    changed: Condvar,
    written: Notify,
}

#[derive(Default)]
struct Queue {
    waiting: Vec<u8>,
    /// Bytes that are being written just now.
    under_way: usize,
    /// The other side is gone.
    broken: bool,
}

impl Output {
    /// Starts writing to `sink`.
    pub fn to(sink: impl Write + Send + 'static) -> Self {
        let shared = Shared { queue: Mutex::default(), changed: Condvar::new(), written: Notify::new() };
        let output = Self { shared: Arc::new(shared) };
        let writing = output.clone();
        std::thread::spawn(move || writing.write_to(sink));
        output
    }

    /// Puts one message in the queue.
    pub fn send(&self, message: &serde_json::Value) {
        self.put(&frame::framed(message.to_string().as_bytes()));
    }

    /// Bytes that have not been taken by the other side.
    pub fn backlog(&self) -> usize {
        let queue = self.queue();
        queue.waiting.len() + queue.under_way
    }

    /// Waits until at most so many bytes wait to be taken.
    pub async fn until_backlog_is(&self, most: usize) {
        while self.backlog() > most && !self.is_broken() {
            self.shared.written.notified().await;
        }
    }

    pub fn is_broken(&self) -> bool {
        self.queue().broken
    }

    /// Waits, not without end, until everything is written.
    pub fn finish(&self, most: Duration) {
        let end = Instant::now() + most;
        let mut queue = self.queue();
        while (!queue.waiting.is_empty() || queue.under_way > 0) && !queue.broken {
            let Some(left) = end.checked_duration_since(Instant::now()) else { return };
            let waited = self.shared.changed.wait_timeout(queue, left);
            queue = waited.unwrap_or_else(PoisonError::into_inner).0;
        }
    }

    fn queue(&self) -> MutexGuard<'_, Queue> {
        // Whoever panicked while holding the lock had only moved whole pieces.
        self.shared.queue.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn put(&self, bytes: &[u8]) {
        self.queue().waiting.extend_from_slice(bytes);
        self.shared.changed.notify_all();
    }

    fn write_to(&self, mut sink: impl Write) {
        loop {
            let bytes = self.next_piece();
            let written = sink.write_all(&bytes).and_then(|()| sink.flush());
            let mut queue = self.queue();
            queue.under_way = 0;
            queue.broken |= written.is_err();
            let broken = queue.broken;
            drop(queue);
            self.shared.changed.notify_all();
            self.shared.written.notify_one();
            if broken {
                return;
            }
        }
    }

    fn next_piece(&self) -> Vec<u8> {
        let mut queue = self.queue();
        while queue.waiting.is_empty() {
            queue = self.shared.changed.wait(queue).unwrap_or_else(PoisonError::into_inner);
        }
        queue.under_way = queue.waiting.len();
        std::mem::take(&mut queue.waiting)
    }
}

impl AsyncWrite for Output {
    fn poll_write(self: Pin<&mut Self>, _: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        if self.is_broken() {
            return Poll::Ready(Err(io::ErrorKind::BrokenPipe.into()));
        }
        self.put(bytes);
        Poll::Ready(Ok(bytes.len()))
    }

    fn poll_flush(self: Pin<&mut Self>, _: &mut Context<'_>) -> Poll<io::Result<()>> {
        Poll::Ready(Ok(()))
    }

    fn poll_shutdown(self: Pin<&mut Self>, _: &mut Context<'_>) -> Poll<io::Result<()>> {
        Poll::Ready(Ok(()))
    }
}
