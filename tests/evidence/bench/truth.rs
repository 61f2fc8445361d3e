//! What each error of a job truly does.

use super::job::Job;
use super::machine::Errors;
use super::rotor::On;
use num_complex::Complex64;

impl Job {
    /// What errors of the machine and the mounting, as lines of a budget name them, do at a limit when the last state is
    /// read, without noise.
    pub fn errors_of(&self, on: On, names: &[String]) -> f64 {
        let is = |name: &str| names.iter().any(|named| named == name);
        let planes = &self.rotor.body.planes;
        let at = |vectors: Vec<Complex64>| {
            let all: Vec<(Complex64, f64)> = vectors.into_iter().zip(planes.iter().copied()).collect();
            self.rotor.acting(on, &all)
        };
        let mut sum = 0.0;
        if is("arbor") {
            sum += at(self.arbor.clone());
        }
        if is("mounting") {
            sum += at(self.added.iter().zip(&self.arbor).map(|(all, arbor)| *all - *arbor).collect());
        }
        if self.class.by_trials() {
            return sum;
        }
        let as_said = |with: Errors| -> Vec<Complex64> {
            let seen = self.machine.signals(&self.rotor.body, &self.added, self.machine.speed, with);
            seen.into_iter()
                .enumerate()
                .map(|(n, one)| one.scale(if with.gain { self.said[n] / self.machine.one[n] } else { 1.0 }))
                .collect()
        };
        let none = Errors { gain: false, cross: false, apparent: false };
        let apart = |with: Errors| at(as_said(with).into_iter().zip(as_said(none)).map(|(a, b)| a - b).collect());
        if is("machine") {
            sum += apart(Errors { apparent: true, ..none });
        }
        if is("interference") {
            sum += apart(Errors { cross: true, ..none });
        }
        if is("calibration") || is("dial setting") {
            sum += apart(Errors { gain: true, ..none });
        }
        sum
    }
}
