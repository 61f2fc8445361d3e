//! Many jobs of the shop, what must hold of them, and how far they brought their rotors.

#[path = "part.rs"]
mod part;
#[path = "sheet.rs"]
mod sheet;
#[path = "shop.rs"]
mod shop;
#[path = "stand.rs"]
mod stand;

pub use shop::{Ending, Verdict};

use shop::Job;
use stand::Way;

/// Where the lower limit of the two bearings is so many times what one reading error looks like, a rotor must come
/// within it.
const CLEAR_OF_THE_FLOOR: f64 = 2.0;

/// And where trial runs tell the effect of a mass to within this share; planes that act alike do not.
const TELLING: f64 = 0.8;

/// Does the jobs of these numbers.
pub fn jobs(numbers: std::ops::Range<u64>) -> Vec<Ending> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from) as u64;
    let work = |thread: u64| {
        let own = numbers.clone().filter(move |seed| seed % threads == thread);
        let way = |seed: u64| Way::ALL[(seed % Way::ALL.len() as u64) as usize];
        own.map(|seed| Job::by_chance(seed, way(seed)).work()).collect::<Vec<Ending>>()
    };
    std::thread::scope(|scope| {
        let handles: Vec<_> = (0..threads).map(|thread| scope.spawn(move || work(thread))).collect();
        handles.into_iter().flat_map(|handle| handle.join().expect("no job panics")).collect()
    })
}

/// Whether tolerance and trial runs stand out from noise, so that the job can be done.
pub fn is_clear(ending: &Ending) -> bool {
    !ending.another_speed && ending.floor * CLEAR_OF_THE_FLOOR <= 1.0 && ending.trial_error <= TELLING
}

/// What must hold of every job, in words where it does not.
fn broken(ending: &Ending) -> Option<String> {
    if !ending.errors.is_empty() {
        return Some(format!("its sheet has errors: {ending:?}"));
    }
    if ending.another_speed {
        let shown = ending.verdict != Verdict::NotShown;
        return shown.then(|| format!("judged by a trial at another speed: {ending:?}"));
    }
    if is_clear(ending) && !ending.verdict.ends_the_job() {
        return Some(format!("not brought within its tolerance: {ending:?}"));
    }
    // The uncertainty is stated for 95 %; a rotor said to be within may exceed its limit by chance, but not by much.
    if ending.verdict == Verdict::Within && ending.after > 1.1 {
        return Some(format!("said to be within, and is not: {ending:?}"));
    }
    // Hard supports read a twelfth too high where their resonance is as near as the bench has it.
    let at_least = if ending.way == Way::ByDimensions { 0.8 } else { 0.9 };
    if ending.wrongly_over.is_some_and(|truly| truly < at_least) {
        return Some(format!("said to be over, and is not: {ending:?}"));
    }
    None
}

/// What does not hold of the jobs.
pub fn judged(endings: &[Ending]) -> Vec<String> {
    let mut wrong: Vec<String> = endings.iter().filter_map(broken).collect();
    let within = endings.iter().filter(|ending| ending.verdict == Verdict::Within);
    let exceeding = within.clone().filter(|ending| ending.after > 1.0).count();
    let within = within.count();
    if exceeding * 40 > within {
        wrong.push(format!("{exceeding} of {within} that are said to be within exceed their limits"));
    }
    wrong
}

/// How far each step and the whole job brought the rotors, by the way they were worked on.
pub fn distribution(endings: &[Ending]) -> String {
    let mut text = String::new();
    for way in Way::ALL {
        let own: Vec<&Ending> = endings.iter().filter(|ending| ending.way == way).collect();
        let of = |is: &dyn Fn(&Ending) -> bool| own.iter().filter(|ending| is(ending)).count();
        let mut first: Vec<f64> =
            own.iter().filter(|ending| ending.steps > 0).map(|ending| ending.first_step).collect();
        let mut whole: Vec<f64> = own.iter().map(|ending| 1.0 - ending.after / ending.before).collect();
        let steps = own.iter().map(|ending| ending.steps).sum::<usize>() as f64 / own.len().max(1) as f64;
        text += &format!(
            "{way:?}: {} rotors, {} clear of noise, {} within, {} as read, {} not shown, {} over, {steps:.2} steps each\n",
            own.len(),
            of(&is_clear),
            of(&|ending| ending.verdict == Verdict::Within),
            of(&|ending| ending.verdict == Verdict::AsRead),
            of(&|ending| ending.verdict == Verdict::NotShown),
            of(&|ending| matches!(ending.verdict, Verdict::OverAsRead | Verdict::Over)),
        );
        text += &format!("  reduction of the first step: {}\n", shares(&mut first));
        text += &format!("  reduction of the whole job:  {}\n", shares(&mut whole));
    }
    text
}

fn shares(values: &mut [f64]) -> String {
    values.sort_by(f64::total_cmp);
    let at = |share: f64| {
        let place = (values.len().saturating_sub(1) as f64 * share) as usize;
        values.get(place).map_or(f64::NAN, |v| v * 100.0)
    };
    let words = [0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99]
        .map(|share| format!("{:.0} % of them {:.1} %", share * 100.0, at(share)));
    words.join(", ")
}
