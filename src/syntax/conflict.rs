//! Git's conflict markers, which stand at the start of a line.

use crate::text::Span;

/// Where a line is in a conflict.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Place {
    /// Outside every conflict, or on its first side, which is read.
    Read,
    /// A marker, or a line of a side that is skipped.
    Skipped,
}

/// The conflicts of one text, found in one pass when the first marker is met.
#[derive(Default)]
pub(super) struct Conflicts {
    /// From the start of the first marker to the end of the last one; a marker without its others is one alone.
    pub whole: Vec<Span>,
    /// The marker lines and the sides that are skipped, in order.
    skipped: Vec<Span>,
    next: usize,
}

/// The four markers: seven characters, then a blank or the end of the line.
pub(super) fn marker(line: &[u8]) -> Option<u8> {
    let first = *line.first()?;
    let is_marker = matches!(first, b'<' | b'|' | b'=' | b'>')
        && line.len() >= 7
        && line[..7].iter().all(|byte| *byte == first)
        && line.get(7).is_none_or(|byte| matches!(byte, b' ' | b'\t' | b'\r'));
    is_marker.then_some(first)
}

/// The markers of a conflict that has not come to its end.
type Started = Vec<(u8, Span)>;

impl Conflicts {
    /// The conflicts from byte `from` of `text` on; `from` is the start of a line.
    pub fn find(text: &str, from: u32) -> Self {
        let mut found = Self::default();
        let mut started = Started::new();
        let mut start = from;
        for line in text.as_bytes()[from as usize..].split(|byte| *byte == b'\n') {
            let span = Span::new(start, start + line.len() as u32);
            start = span.end + 1;
            if let Some(marker) = marker(line) {
                found.marker(marker, span, &mut started);
            }
        }
        found.abandon(&mut started);
        found.skipped.sort();
        found.whole.sort();
        found
    }

    fn marker(&mut self, marker: u8, span: Span, started: &mut Started) {
        let divided = started.iter().any(|(marker, _)| *marker == b'=');
        match marker {
            b'<' => {
                self.abandon(started);
                started.push((marker, span));
            }
            b'|' if started.len() == 1 => started.push((marker, span)),
            b'=' if !started.is_empty() && !divided => started.push((marker, span)),
            b'>' if divided => {
                let (open, middle) = (started[0].1, started[1].1);
                self.skipped.extend([open, middle.to(span)]);
                self.whole.push(open.to(span));
                started.clear();
            }
            _ => self.alone(span),
        }
    }

    /// The markers met so far never came to an end: each is one alone, and the lines between them are read.
    fn abandon(&mut self, started: &mut Started) {
        started.drain(..).for_each(|(_, span)| self.alone(span));
    }

    fn alone(&mut self, span: Span) {
        self.skipped.push(span);
        self.whole.push(span);
    }

    /// How the line that starts at `start` is to be taken; lines must be asked for in order.
    pub fn place(&mut self, start: u32) -> Place {
        while self.skipped.get(self.next).is_some_and(|span| span.end < start) {
            self.next += 1;
        }
        match self.skipped.get(self.next) {
            Some(span) if span.start <= start => Place::Skipped,
            _ => Place::Read,
        }
    }
}
