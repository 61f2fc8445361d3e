//! Writes a book of so many sheets, each of about sixty lines, for benchmarks and for trying things at size.
//!
//! `cargo run --release --example book -- 10000 DIR`

use std::error::Error;
use std::fs;
use std::path::Path;

#[path = "sheets.rs"]
mod sheets;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let (Some(count), Some(folder)) = (arguments.next(), arguments.next()) else {
        return Err("usage: book COUNT DIR".into());
    };
    let folder = Path::new(&folder);
    for (path, text) in sheets::book(count.parse()?) {
        let path = folder.join(path);
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent)?;
        }
        fs::write(path, text)?;
    }
    Ok(())
}
