//! What a trend says, in sentences.

use super::{
    Change, ChannelTrend, CheckTrend, Course, Crowd, FEWEST, Jump, MachineTrend, OfProof, Off, Otherwise, PartTrend,
    SetAside, day_of, month, number_of,
};
use crate::book::display_value;

impl MachineTrend {
    /// What is to be said of it, in sentences; empty where nothing drifts, nothing comes back and nothing is set aside.
    pub fn sentences(&self) -> Vec<String> {
        let set_aside = self.set_aside.iter().map(SetAside::sentence);
        set_aside.chain(self.found()).collect()
    }

    fn found(&self) -> Vec<String> {
        let drifts = self.channels.iter().flat_map(ChannelTrend::sentences);
        let checks = self.checks.iter().filter_map(CheckTrend::sentence);
        let parts = self.parts.iter().filter_map(PartTrend::sentence);
        drifts.chain(checks).chain(parts).collect()
    }

    /// The same as sentences of their own; that nothing is found, too.
    pub fn says(&self) -> Vec<String> {
        let told: usize = self.channels.iter().map(|channel| channel.points.len()).sum();
        let nothing = if self.set_aside.is_some_and(|set_aside| set_aside.is_more_than_a_few(told)) {
            "whether a channel drifts is not shown: too many corrections are set aside"
        } else if self.channels.iter().any(|channel| channel.fitted.is_some()) {
            "nothing drifts by more than the scatter"
        } else if self.channels.iter().any(ChannelTrend::is_of_one_day) {
            "all records are of one day: a drift shows over several"
        } else {
            "too few records to tell a drift from scatter"
        };
        let nothing = self.found().is_empty().then(|| nothing.to_owned());
        let serviced = self.serviced.map(|day| format!("results from before the service of {day} are not counted"));
        serviced.into_iter().chain(self.sentences()).chain(nothing).map(|sentence| capital(&sentence) + ".").collect()
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

impl SetAside {
    /// Whether slips of the hand alone do not account for them, beside so many that tell. Source: common practice, no source.
    fn is_more_than_a_few(&self, told: usize) -> bool {
        self.corrections >= 3 || self.corrections * 5 > self.corrections + told
    }

    fn sentence(&self) -> String {
        let Self { corrections, first, last } = self;
        if *corrections == 1 {
            return format!("1 correction is set aside because the run after it contradicts it, on {first}");
        }
        let days =
            if first == last { format!("all on {first}") } else { format!("all since {first}, the last on {last}") };
        format!(
            "{corrections} corrections are set aside because the run after them contradicts them, {days}; a channel whose gain \
             or angle jumps looks like this"
        )
    }
}

/// In what a change is told.
#[derive(Clone, Copy)]
enum Told {
    Share,
    /// Of what is put on in the other plane, at 90 deg to it.
    Across,
    Of,
    Angle,
}

impl Told {
    fn unsigned(self, value: f64) -> String {
        match self {
            Self::Share | Self::Across | Self::Of => format!("{:.1} %", value.abs() * 100.0),
            Self::Angle => format!("{:.1} deg", value.to_degrees().abs()),
        }
    }

    fn signed(self, value: f64) -> String {
        let sign = if value < 0.0 { '−' } else { '+' };
        let tail = match self {
            Self::Share | Self::Angle => "",
            Self::Of => " of it",
            Self::Across => " of it, at 90 deg to it,",
        };
        format!("{sign}{}{tail}", self.unsigned(value))
    }

    /// `has drifted +2.1 % since April 2026 (± 0.4 %)`; `None` where nothing has changed.
    fn course(self, change: &Change, since: &str) -> Option<String> {
        Some(match change.course {
            Course::Steady => return None,
            Course::Drifts => {
                format!("has drifted {} since {since} (± {})", self.signed(change.by), self.unsigned(change.known_to))
            }
            Course::Jumps(jump) => format!("has jumped {}", self.jump(&jump)),
            Course::DriftsOrJumps(jump) => format!(
                "has changed since {since}: a drift of {} (± {}) and a jump of {} cannot be told apart",
                self.signed(change.by),
                self.unsigned(change.known_to),
                self.jump(&jump)
            ),
            Course::Otherwise(Otherwise { first, last, step, on }) => format!(
                "has changed since {since}, but neither steadily nor by one jump: {} at first, {} at last, the largest step {} in \
                 {}; look at the plot",
                self.signed(first),
                self.signed(last),
                self.signed(step),
                month(day_of(on))
            ),
        })
    }

    /// `+10.0 % between 2026-06-25 and 2026-07-09 (± 0.5 %)`
    fn jump(self, jump: &Jump) -> String {
        let [before, after] = jump.between.map(day_of);
        format!("{} between {before} and {after} (± {})", self.signed(jump.by), self.unsigned(jump.known_to))
    }
}

impl OfProof {
    /// What the records were judged by, and how many there are.
    fn by(&self) -> [String; 2] {
        let by = match &self.proof {
            Some(proof) => format!("the proof \"{proof}\" of \"{}\"", self.setup),
            None => format!("\"{}\"", self.setup),
        };
        [by, format!("in all {} records since {}", self.records, month(self.since))]
    }

    fn sentences(&self, channel: &str) -> Vec<String> {
        let [by, records] = self.by();
        let gain = self.gain_off.map(|Off { by: off, known_to }| {
            let than = if off > 0.0 { "more" } else { "less" };
            let (off, known_to) = (Told::Share.unsigned(off), Told::Share.unsigned(known_to));
            format!("{channel} reads {off} {than} than {by} says, {records} (± {known_to}): prove it again")
        });
        let angle = self.angle_off.map(|Off { by: off, known_to }| {
            let (off, known_to) = (Told::Angle.signed(off), Told::Angle.unsigned(known_to));
            format!("the angle of {channel} is {off} off what {by} says, {records} (± {known_to}): prove it again")
        });
        gain.into_iter().chain(angle).collect()
    }
}

impl ChannelTrend {
    /// Whether its records are enough but for their day.
    fn is_of_one_day(&self) -> bool {
        let ends = self.points.first().zip(self.points.last());
        self.points.len() >= FEWEST && ends.is_some_and(|(first, last)| first.day == last.day)
    }

    fn sentences(&self) -> Vec<String> {
        let Some(first) = self.points.first() else { return Vec::new() };
        let (since, channel) = (month(first.day), &self.channel);
        let heard = format!("what {channel} reads of the other plane");
        let in_other = format!("what the other channel reads of the plane of {channel}");
        let of_other = [(heard, self.heard), (in_other, self.in_other)].into_iter().filter_map(|(what, component)| {
            let component = component?;
            let told = if component.is_across { Told::Across } else { Told::Of };
            Some(format!("{what} {}", told.course(&component.line.change, &since)?))
        });
        let off = self.proofs.iter().flat_map(|proof| proof.sentences(channel));
        let fitted = self.fitted.as_ref();
        let gain = fitted.and_then(|fitted| Some(format!("{channel} {}", Told::Share.course(&fitted.gain, &since)?)));
        let angle = fitted
            .and_then(|fitted| Some(format!("the angle of {channel} {}", Told::Angle.course(&fitted.angle, &since)?)));
        of_other.chain(off).chain(gain).chain(angle).collect()
    }
}

impl CheckTrend {
    fn sentence(&self) -> Option<String> {
        Some(format!("the check mass of \"{}\" in {} {}", self.setup, self.plane, self.drift()?))
    }

    /// `has drifted +2.1 % since April 2026 (± 0.4 %); it leaves its band about March 2027`, where it has drifted or changed
    /// otherwise.
    pub fn drift(&self) -> Option<String> {
        let course = Told::Share.course(&self.line?.change, &month(self.points.first()?.0))?;
        let leaves = self.leaves.map_or_else(String::new, |day| {
            match number_of(day) <= self.points.last().map_or(0.0, |(day, ..)| number_of(*day)) {
                true => "; it has left its band".to_owned(),
                false => format!("; it leaves its band about {}", month(day)),
            }
        });
        Some(course + &leaves)
    }
}

impl PartTrend {
    /// `12 rotors`; `12 records` where one rotor may be in several.
    pub fn counted(&self) -> String {
        format!("{} {}", self.rotors, if self.are_told_apart { "rotors" } else { "records" })
    }

    /// `57 ± 6 deg`
    fn about(crowd: &Crowd) -> String {
        let [direction, known_to] = [crowd.direction, crowd.known_to].map(f64::to_degrees);
        format!("{:.0} ± {:.0} deg", direction.rem_euclid(360.0), known_to.max(1.0))
    }

    /// `38 g·mm, 19 % of the tolerance`
    pub fn in_common(&self) -> String {
        let amount = display_value(self.common.0, self.unit, 0.0);
        match self.share_of_tolerance() {
            Some(share) => format!("{amount}, {:.0} % of the tolerance", share * 100.0),
            None => amount,
        }
    }

    fn sentence(&self) -> Option<String> {
        let crowd = self.comes_back()?;
        let drawing = self.drawing.as_ref().map_or_else(String::new, |drawing| format!(" ({drawing})"));
        let twice = match self.are_told_apart {
            true => "",
            false => "; not all records name a serial number, and one rotor may be in several",
        };
        Some(format!(
            "{}{drawing}, plane {}: heavy about {} as found, by {} (by chance {}); they have in common {}: look at the fixture, \
             at the casting, and at what the machine itself adds, such as its drive{twice}",
            self.part,
            self.plane,
            Self::about(&crowd),
            self.counted(),
            one_in(crowd.by_chance),
            self.in_common(),
        ))
    }
}

/// `one in 500`
fn one_in(share: f64) -> String {
    if share < 1e-6 { "less than one in a million".to_owned() } else { format!("one in {:.0}", 1.0 / share) }
}
