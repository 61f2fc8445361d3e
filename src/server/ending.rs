//! How the process comes to its end: because it is told to, because its input ends, or because the process that started
//! it is gone. Always, and within a second.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use std::sync::Arc;
use tokio::sync::Notify;

use super::wire::Watch;

/// How long what is under way may take when the end has come.
const GRACE: Duration = Duration::from_millis(400);

/// How often it is looked whether the process that started this one is still there.
const LOOK: Duration = Duration::from_secs(1);

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

/// Ends the session when a process is gone. One that cannot be seen from here, such as one outside of a container, tells
/// nothing by its absence.
#[cfg(unix)]
pub(super) fn follow(process: u32, ending: Arc<Ending>) {
    use rustix::io::Errno;
    use rustix::process::{Pid, test_kill_process};
    let Some(process) = i32::try_from(process).ok().and_then(Pid::from_raw) else { return };
    let is_gone = move || test_kill_process(process) == Err(Errno::SRCH);
    if is_gone() {
        return;
    }
    std::thread::spawn(move || {
        while !is_gone() {
            std::thread::sleep(LOOK);
        }
        ending.exit();
    });
}

#[cfg(not(unix))]
pub(super) fn follow(_: u32, _: Arc<Ending>) {}

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
