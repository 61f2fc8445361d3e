//! How the process comes to its end: because it is told to, or because its input ends. Always, and soon.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use std::sync::Arc;
use tokio::sync::Notify;

use super::wire::Watch;

/// How long what is under way may take when the end has come.
const GRACE: Duration = Duration::from_secs(1);

#[derive(Default)]
pub(super) struct Ending {
    shut_down: AtomicBool,
    over: Notify,
}

impl Ending {
    /// The client has announced the end.
    pub fn shut_down(&self) {
        self.shut_down.store(true, Ordering::Relaxed);
    }

    pub fn is_shut_down(&self) -> bool {
        self.shut_down.load(Ordering::Relaxed)
    }

    /// The session is over.
    pub fn exit(&self) {
        self.over.notify_one();
    }

    /// Waits for the end.
    pub async fn wait(&self) {
        self.over.notified().await;
    }
}

/// Sees to the end from the thread that reads the input, whatever the others do.
pub(super) struct Watcher(pub Arc<Ending>);

impl Watch for Watcher {
    fn ending(&self) {
        let ending = self.0.clone();
        std::thread::spawn(move || {
            std::thread::sleep(GRACE);
            ending.exit();
        });
    }
}
