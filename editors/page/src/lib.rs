//! The library for a page in a browser: questions in as JSON, answers out as JSON, nothing else.
//!
//! The page writes a question where [`reserve`] says, calls [`answer`], and reads the answer at the place and length
//! that come back. `desk.rs` has the questions.

mod desk;
mod places;

use std::cell::RefCell;

thread_local! {
    static QUESTION: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
    static ANSWER: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
    static DESK: RefCell<desk::Desk> = RefCell::new(desk::Desk::default());
}

/// Where the page writes a question of so many bytes.
#[unsafe(no_mangle)]
pub extern "C" fn reserve(length: usize) -> *mut u8 {
    QUESTION.with_borrow_mut(|question| {
        question.clear();
        question.resize(length, 0);
        question.as_mut_ptr()
    })
}

/// Answers the question that was written last. The upper half of what is returned is where the answer begins, the lower
/// half its length in bytes; it stays there until the next call.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> u64 {
    let answer = QUESTION.with_borrow(|question| match serde_json::from_slice(question) {
        Ok(question) => DESK.with_borrow_mut(|desk| desk.answer(question)),
        Err(fault) => serde_json::json!({ "fault": fault.to_string() }),
    });
    ANSWER.with_borrow_mut(|kept| {
        *kept = answer.to_string().into_bytes();
        (kept.as_ptr() as u64) << 32 | kept.len() as u64
    })
}
