//! One message on the wire: header lines, an empty line, so many bytes of JSON.

use std::io::{self, BufRead, Read};

/// A header line of more bytes than this is none.
const LONGEST_HEADER: u64 = 64 * 1024;

/// A message of more bytes than this cannot be meant.
const LARGEST_BODY: usize = 1 << 30;

/// The longest header that is known by its length, with its number.
const LENGTH_HEADER: usize = 64;

/// The body of the next message; `None` at the end of the input. What is no header is passed over and counted, so that
/// neither stray output of a wrapper nor a message whose header was lost ends the session or makes it deaf: a header
/// also begins after the body of such a message, on the same line.
pub(super) fn next(input: &mut impl BufRead, passed_over: &mut usize) -> io::Result<Option<Vec<u8>>> {
    let mut length = None;
    let mut line = Vec::new();
    loop {
        // A header may begin at the end of the piece before.
        let kept = if line.ends_with(b"\n") { 0 } else { line.len().min(LENGTH_HEADER) };
        line.drain(..line.len() - kept);
        if input.by_ref().take(LONGEST_HEADER).read_until(b'\n', &mut line)? == 0 {
            return Ok(None);
        }
        match (line.trim_ascii(), length) {
            (b"", Some(length)) => return body(input, length).map(Some),
            (b"", None) => {}
            (header, _) => match content_length(header) {
                Some((before, found)) => {
                    length = Some(found);
                    *passed_over += before;
                }
                None if header.len() > LENGTH_HEADER || !header.contains(&b':') || has_length(header) => {
                    *passed_over += header.len() - kept.min(header.len());
                }
                None => {}
            },
        }
    }
}

const LENGTH: &[u8] = b"content-length";

fn has_length(header: &[u8]) -> bool {
    header.len() >= LENGTH.len() && header[..LENGTH.len()].eq_ignore_ascii_case(LENGTH)
}

fn body(input: &mut impl BufRead, length: usize) -> io::Result<Vec<u8>> {
    if length > LARGEST_BODY {
        let message = format!("a message of {length} bytes is announced; more than {LARGEST_BODY} cannot be meant");
        return Err(io::Error::new(io::ErrorKind::InvalidData, message));
    }
    let mut body = vec![0; length];
    input.read_exact(&mut body)?;
    Ok(body)
}

/// The length that the end of a line announces, and how many bytes of something else come before.
fn content_length(line: &[u8]) -> Option<(usize, usize)> {
    let colon = line.iter().rposition(|byte| *byte == b':')?;
    let before = line[..colon].len().checked_sub(LENGTH.len())?;
    let length = std::str::from_utf8(&line[colon + 1..]).ok()?.trim().parse().ok()?;
    line[before..colon].eq_ignore_ascii_case(LENGTH).then_some((before, length))
}

/// A message as it goes over the wire.
pub(super) fn framed(body: &[u8]) -> Vec<u8> {
    let mut frame = format!("Content-Length: {}\r\n\r\n", body.len()).into_bytes();
    frame.extend_from_slice(body);
    frame
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(mut input: &[u8]) -> Vec<String> {
        let bodies = std::iter::from_fn(|| next(&mut input, &mut 0).expect("bytes in memory can be read"));
        bodies.map(|body| String::from_utf8(body).unwrap()).collect()
    }

    #[test]
    fn messages_are_told_apart() {
        let input = [framed(b"{}"), framed("µ".as_bytes()), framed(b"")].concat();
        assert_eq!(all(&input), ["{}", "µ", ""]);
    }

    #[test]
    fn headers_come_in_any_order_and_case() {
        let input = b"content-type: x\r\ncontent-LENGTH:  3\r\n\r\nabcContent-Length: 1\n\nd";
        assert_eq!(all(input), ["abc", "d"]);
    }

    #[test]
    fn what_is_no_header_is_passed_over() {
        assert_eq!(all(b"hello\r\n\r\nContent-Length: x\r\n\r\nContent-Length: 2\r\n\r\nok"), ["ok"]);
    }

    #[test]
    fn a_message_whose_header_was_lost_costs_itself_alone() {
        let long = "x".repeat(3 * LONGEST_HEADER as usize);
        for header in ["", "Content-Length: -1\r\n\r\n", "Content-Length: 18446744073709551616\r\n\r\n", "x: y\r\n\r\n"]
        {
            for body in ["{}", "{\n}", "\"Content-Length: 5 mm\"", &long] {
                let input = format!("{header}{body}Content-Length: 2\r\n\r\nokContent-Length: 1\r\n\r\nk");
                assert_eq!(all(input.as_bytes()), ["ok", "k"], "{header:?} {:?}", &body[..2]);
            }
        }
        // Wherever the pieces that are read at one time end.
        for length in LONGEST_HEADER as usize - 40..LONGEST_HEADER as usize + 10 {
            let input = format!("{}Content-Length: 2\r\n\r\nok", &long[..length]);
            assert_eq!(all(input.as_bytes()), ["ok"], "{length}");
        }
    }

    #[test]
    fn a_message_that_cannot_be_meant_is_named() {
        let error = next(&mut &b"Content-Length: 4294967296\r\n\r\n{}"[..], &mut 0).expect_err("it is too long");
        assert!(error.kind() == io::ErrorKind::InvalidData && error.to_string().contains("4294967296 bytes"));
    }

    #[test]
    fn half_a_message_is_the_end() {
        assert!(next(&mut &b"Content-Length: 9\r\n\r\nabc"[..], &mut 0).is_err());
    }
}
