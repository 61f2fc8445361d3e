//! One message on the wire: header lines, an empty line, so many bytes of JSON.

use std::io::{self, BufRead, Read};

/// A header line of more bytes than this is none.
const LONGEST_HEADER: u64 = 64 * 1024;

/// A message of more bytes than this cannot be meant.
const LARGEST_BODY: usize = 1 << 30;

/// The body of the next message; `None` at the end of the input. Lines that are no header are passed over, so that
/// stray output of a wrapper does not end the session.
pub(super) fn next(input: &mut impl BufRead) -> io::Result<Option<Vec<u8>>> {
    let mut length = None;
    loop {
        let mut line = Vec::new();
        if input.by_ref().take(LONGEST_HEADER).read_until(b'\n', &mut line)? == 0 {
            return Ok(None);
        }
        match (line.trim_ascii(), length) {
            (b"", Some(length)) => return body(input, length).map(Some),
            (b"", None) => {}
            (header, _) => length = content_length(header).or(length),
        }
    }
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

fn content_length(header: &[u8]) -> Option<usize> {
    let (name, value) = std::str::from_utf8(header).ok()?.split_once(':')?;
    if !name.eq_ignore_ascii_case("content-length") {
        return None;
    }
    value.trim().parse().ok()
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
        let bodies = std::iter::from_fn(|| next(&mut input).expect("bytes in memory can be read"));
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
    fn a_message_that_cannot_be_meant_is_named() {
        let error = next(&mut &b"Content-Length: 4294967296\r\n\r\n{}"[..]).expect_err("it is too long");
        assert!(error.kind() == io::ErrorKind::InvalidData && error.to_string().contains("4294967296 bytes"));
    }

    #[test]
    fn half_a_message_is_the_end() {
        assert!(next(&mut &b"Content-Length: 9\r\n\r\nabc"[..]).is_err());
    }
}
