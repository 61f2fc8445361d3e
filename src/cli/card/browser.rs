//! A page printed to PDF by a browser that is installed.
//!
//! No library sets a page of tables, figures and wrapped text as well as a browser does; one that did would be several
//! times the size of this program.

use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::cli::{Failure, write};
use crate::disk::{self, reason, slashes};

/// What such browsers are called on the path.
const NAMES: [&str; 8] = [
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "microsoft-edge",
    "microsoft-edge-stable",
    "msedge",
];

const VARIABLE: &str = "ROTORBOOK_BROWSER";

/// A booklet of a thousand cards takes less.
const PATIENCE: Duration = Duration::from_secs(180);

/// A booklet of a thousand cards has less, in bytes.
const LARGEST: u64 = 1 << 30;

/// The page as PDF.
pub(super) fn print(page: &str) -> Result<Vec<u8>, Failure> {
    let browser = find().ok_or_else(|| {
        Failure::new("a PDF is printed by Chromium, Chrome or Edge, and none of them is on the path").help(format!(
            "name one in {VARIABLE}; or write the card as .html, open it in any browser, and print it to PDF there"
        ))
    })?;
    let failed = |what: &str, why: String| {
        Failure::new(format!("`{}` {what}: {why}", browser.display()))
            .help("write the card as .html, open it in any browser, and print it to PDF there")
    };
    let folder = tempfile::tempdir().map_err(|error| failed("has no room to work in", reason(&error)))?;
    let (from, to) = (folder.path().join("card.html"), folder.path().join("card.pdf"));
    write::output(&from, page.as_bytes()).map_err(|why| failed("has no room to work in", why))?;
    let mut command = Command::new(&browser);
    command
        .args(["--headless", "--disable-gpu", "--no-first-run", "--no-pdf-header-footer", "--disable-extensions"])
        .arg(format!("--user-data-dir={}", folder.path().join("profile").display()))
        .arg(format!("--print-to-pdf={}", to.display()))
        .args(for_the_superuser(folder.path()))
        .arg(url(&from))
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    let child = command.spawn().map_err(|error| failed("cannot be started", reason(&error)))?;
    wait(child).map_err(|why| failed("did not print", why))?;
    disk::all_bytes(&to, LARGEST).map_err(|_| failed("did not print", "it left no file behind".to_owned()))
}

/// The one that is named, else the first on the path.
fn find() -> Option<PathBuf> {
    if let Some(named) = std::env::var_os(VARIABLE).filter(|named| !named.is_empty()) {
        return Some(named.into());
    }
    let path = std::env::var_os("PATH")?;
    let endings: &[&str] = if cfg!(windows) { &[".exe"] } else { &[""] };
    std::env::split_paths(&path)
        .flat_map(|folder| NAMES.map(|name| folder.join(name)))
        .flat_map(|path| endings.iter().map(move |ending| PathBuf::from(format!("{}{ending}", path.display()))))
        .find(|path| path.is_file())
}

/// Chromium does not start for the superuser with its sandbox on; the page is our own and holds no script.
#[cfg(unix)]
fn for_the_superuser(folder: &Path) -> &'static [&'static str] {
    use std::os::unix::fs::MetadataExt;
    let is_root = std::fs::metadata(folder).is_ok_and(|metadata| metadata.uid() == 0);
    if is_root { &["--no-sandbox"] } else { &[] }
}

#[cfg(not(unix))]
fn for_the_superuser(_: &Path) -> &'static [&'static str] {
    &[]
}

fn wait(mut child: Child) -> Result<(), String> {
    let started = Instant::now();
    loop {
        match child.try_wait() {
            Ok(Some(status)) if status.success() => return Ok(()),
            Ok(Some(status)) => return Err(format!("it ended with {status}")),
            Ok(None) if started.elapsed() < PATIENCE => std::thread::sleep(Duration::from_millis(50)),
            Ok(None) => {
                // It is gone, or it cannot be helped.
                let _ = child.kill();
                let _ = child.wait();
                return Err(format!("it took longer than {} s", PATIENCE.as_secs()));
            }
            Err(error) => return Err(reason(&error)),
        }
    }
}

/// A file as an address.
fn url(path: &Path) -> String {
    let path = slashes(path);
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"/-_.~:".contains(&byte);
    let encoded = path.bytes().map(|byte| match plain(byte) {
        true => char::from(byte).to_string(),
        false => format!("%{byte:02X}"),
    });
    let slash = if path.starts_with('/') { "" } else { "/" };
    format!("file://{slash}{}", encoded.collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_of_files() {
        assert_eq!(url(Path::new("/a b/ö.html")), "file:///a%20b/%C3%B6.html");
    }
}
