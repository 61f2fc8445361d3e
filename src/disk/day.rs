//! The day on which something is printed.

use jiff::Timestamp;
use jiff::tz::TimeZone;

/// As `2026-11-25`: the day here, or in UTC that of SOURCE_DATE_EPOCH, so that the same book can make the same file.
pub fn today() -> String {
    let stated = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|seconds| seconds.trim().parse().ok());
    let zoned = match stated.and_then(|seconds| Timestamp::from_second(seconds).ok()) {
        Some(stated) => stated.to_zoned_datetime(TimeZone::UTC),
        None => Timestamp::now().to_zoned_datetime(TimeZone::system()),
    };
    zoned.date().to_string()
}
