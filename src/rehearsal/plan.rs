//! From the sheets of a setup to what its virtual rotors are drawn from.

use num_complex::Complex64;

use super::answers;
use super::given::{
    ANGLE_OFF, Arbor, Cannot, Carried, DEPTH_OFF, Drawn, Limit, MASS_OFF, Mounting, Plan, Plane, SCATTER_IN_STEPS,
    SPEED_OFF, Spread, Weights,
};
use super::reading::Readout;
use crate::book::{
    Acts, Book, Computed, Computing, Cut as CutBy, EffectiveField, Facts, ItemId, PlaneResults, RotorResults,
    SetupResults, Val,
};
use crate::mechanics::limits::ARM;
use crate::motion::{Cut, Shape};
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::units::{Length, Ratio, Typed, Unbalance};
use crate::vocabulary::machine::{Supports, Works};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{AnyFact, Sense, arbor, machine, plane, proof, result, rotor, setup};

/// As found, over the tolerance of each plane, where too few records say. Source: common practice, no source.
const USUAL_AS_FOUND: [f64; 2] = [2.0, 20.0];

/// Records of a setup that are enough to say how its rotors come.
const ENOUGH_RECORDS: usize = 3;

fn cannot<T>(why: impl Into<String>) -> Result<T, Cannot> {
    Err(Cannot(why.into()))
}

fn of_range(low: f64, high: f64) -> String {
    format!("{low} to {high}")
}

impl Plan {
    /// `as_found` is over the tolerance of each plane, where it is not to be taken from the records.
    pub fn of(computing: &Computing<'_>, id: ItemId, as_found: Option<[f64; 2]>) -> Result<Self, Cannot> {
        let setup = computing.setup(id).ok_or_else(|| Cannot("the setup cannot be read".into()))?;
        let setup = &*setup;
        let facts = computing.facts();
        let Some(rotor) = setup.rotor.as_deref() else { return cannot("the setup names no rotor of the book") };
        let Some(machine) = &setup.machine else { return cannot("the setup names no machine of the book") };
        if setup.is_on_stand() {
            return cannot("a static stand shows no reading that could be rehearsed");
        }
        let of_extra = [Some(&rotor.block), Some(&setup.block), Some(&machine.block)];
        if let Some(block) = of_extra
            .into_iter()
            .flatten()
            .find(|block| block.inner(Kind::ExtraMass).chain(block.inner(Kind::BalanceError)).next().is_some())
        {
            return cannot(format!("extra masses and stated balance errors of the {} are not rehearsed", block.kind));
        }
        let Some(speed) = setup.balancing_speed.get() else { return cannot("`balancing speed` is not known") };
        let planes = planes(computing.book(), setup, rotor)?;
        let mut drawn = Vec::new();
        let mut say = |what, from: String, is_stated| drawn.push(Drawn { what, from, is_stated });
        let limits = limits(rotor, &planes)?;
        let size = planes.iter().map(|plane| plane.tolerance).fold(f64::INFINITY, f64::min);
        let readout = Readout::of(setup, answers::usual_step(setup, size)).map_err(Cannot)?;
        let channels = answers::of(computing, setup, &planes, &readout, &mut say)?;
        if planes.iter().any(|plane| plane.apparent > 0.0) {
            let from = "up to its minimum achievable residual unbalance, the same in every run";
            say("what the machine shows of itself", from.into(), true);
        }
        // In its own bearings nothing is mounted.
        let in_place = setup.supports() == Some(Supports::InPlace);
        let mounting = match in_place {
            true => Mounting::Found(0.0),
            false => answers::mounting(setup, &channels, &readout, &mut say),
        };
        match readout.scatter {
            Some(_) => say("scatter of readings", "the readout's `scatter`".into(), true),
            None => {
                let [low, high] = SCATTER_IN_STEPS;
                say("scatter of readings", format!("{} steps, standard", of_range(low, high)), false);
            }
        }
        let carried = carried(&facts, setup, rotor, planes.len(), &mut say);
        let arbor = arbor(setup, &mut say);
        let as_found = match as_found {
            Some([low, high]) => {
                let from = format!("{} times the tolerance of each plane, as asked for", of_range(low, high));
                say("unbalance as found", from, false);
                [low, high]
            }
            None => as_found_of(computing, id, &mut say),
        };
        let mass = known(&rotor.mass).unwrap_or_default();
        if carried.is_some() {
            say(
                "moments of inertia",
                "a cylinder of half to all of the length between planes and supports".into(),
                false,
            );
        }
        say("speed of a run", format!("± {} % about the balancing speed", SPEED_OFF * 100.0), false);
        say(
            "corrections as made",
            format!("mass {} %, standard; angle ± {ANGLE_OFF} deg; depth ± {} mm", MASS_OFF * 100.0, DEPTH_OFF * 1e3),
            false,
        );
        let largest = facts.quantity(&rotor.block, rotor::LARGEST_DIAMETER).get().map(|d: Length| d.base() / 2.0);
        let outermost = planes.iter().map(|plane| plane.radius).fold(0.0, f64::max);
        let ends = planes.iter().map(|plane| plane.at).chain(carried.iter().flat_map(|carried| carried.at));
        let (low, high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
        let latest = setup.block.latest_proof();
        Ok(Self {
            setup: computing.book().item(id).name_text().to_owned(),
            proof: latest.map(|proof| proof.name_text().to_owned()),
            day: day(setup),
            rotor_mass: mass,
            mass_centre: known(&rotor.mass_centre).unwrap_or(Spread { value: (low + high) / 2.0, standard: 0.0 }),
            largest_radius: largest.unwrap_or(outermost),
            length: (high - low).max(outermost),
            limits,
            channels,
            readout,
            carried: carried.filter(|_| mass.value > 0.0),
            speed: speed.base(),
            against: rotor.block.choice(rotor::ANGLES_COUNT) == Some(Sense::AgainstRotation),
            is_calibrated: setup.has_calibration_masses(),
            calibration_mass: answers::left_on(&facts, setup, &planes),
            mounting,
            in_place,
            arbor,
            as_found,
            planes,
            drawn,
        })
    }
}

fn known<T: Typed>(value: &Val<T>) -> Option<Spread> {
    Some(Spread { value: value.get()?.base(), standard: value.standard_uncertainty() })
}

/// The day of the last proof, or of the last check of its mass where that is later.
fn day(setup: &SetupResults<'_>) -> String {
    let proven = setup.block.latest_proof().and_then(|proof| proof.day(proof::DATE));
    let checked = setup.check_mass.as_ref().and_then(|check| check.checked.iter().map(|one| one.day).max());
    let stated = setup.block.day(setup::DATE);
    [proven, checked]
        .into_iter()
        .flatten()
        .max()
        .or(stated)
        .map_or_else(|| "2000-01-01".to_owned(), |day| day.to_string())
}

fn planes(book: &Book, setup: &SetupResults<'_>, rotor: &RotorResults<'_>) -> Result<Vec<Plane>, Cannot> {
    let is_read = |plane: &&PlaneResults<'_>| {
        setup.channels.is_empty() || setup.channels.iter().any(|(_, name)| *name == plane.name)
    };
    let planes: Vec<Plane> =
        rotor.planes.iter().filter(is_read).map(|plane| one_plane(book, setup, plane)).collect::<Result<_, _>>()?;
    match planes.is_empty() {
        true => cannot("the rotor has no plane"),
        false => Ok(planes),
    }
}

fn one_plane(book: &Book, setup: &SetupResults<'_>, one: &PlaneResults<'_>) -> Result<Plane, Cannot> {
    let lacks = |what: &str| Cannot(format!("the {what} of plane {} is not known", one.name));
    let at = one.at.get().ok_or_else(|| lacks("axial place"))?.base();
    let tolerance = one.tolerance.get().ok_or_else(|| lacks(result::PLANE_TOLERANCE.name))?.base();
    let cut = cut(one);
    let surface = cut.map(|cut| cut.surface);
    let radius = one.radius.get().map(Typed::base).or(surface).ok_or_else(|| lacks(plane::RADIUS.words()))?;
    let weights = (one.method == Some(Method::SlidingWeights)).then(|| {
        let count = match one.block.field(plane::WEIGHTS).map(|field| &field.field.value) {
            Some(FieldValue::Number(count)) => *count as usize,
            Some(FieldValue::Quantity(stated)) => stated.base as usize,
            _ => 2,
        };
        Some(Weights { count, each: one.geometry.mass_each.get()?.base() * radius })
    });
    let places = one.places.as_ref().map_or_else(Vec::new, |places| places.angles.iter().map(|a| a.base()).collect());
    let residual = setup.calibration(one.name).and_then(|calibration| calibration.smallest_residual.as_ref()?.get());
    let apparent = residual.map_or(0.0, Unbalance::base);
    let lines = |facts: &[AnyFact]| {
        let stated = facts.iter().filter_map(|fact| one.block.field(*fact));
        let text =
            |field: &EffectiveField<'_>| field.field.value_span.of(&book.file(field.item.file).text).trim().to_owned();
        stated.map(|field| format!("{}: {}", field.key.name, text(&field))).collect()
    };
    Ok(Plane {
        name: one.name.to_owned(),
        at,
        radius,
        tolerance,
        places,
        cut,
        apparent,
        weights: weights.flatten(),
        takes: lines(&TAKES),
        steps: lines(&STEPS),
    })
}

/// What limits how much is corrected at a time.
const TAKES: [AnyFact; 7] = [
    plane::MOST_CORRECTION.any(),
    plane::MOST_PER_PLACE.any(),
    plane::HOLES_AT_MOST.any(),
    plane::DEPTH.any(),
    plane::FULL_ARC.any(),
    plane::ROOM_PER_PLACE.any(),
    plane::BARRED.any(),
];

/// What says in which steps it is corrected.
const STEPS: [AnyFact; 3] = [plane::MASS_EACH.any(), plane::PLACES.any(), plane::HOLE_DIAMETER.any()];

/// What the plane's method cuts, by the shop's own geometry.
fn cut(one: &PlaneResults<'_>) -> Option<Cut> {
    let g = &one.geometry;
    let length = |value: &Val<Length>| value.get().map(Typed::base);
    let shape = match g.cut(one.method?)? {
        CutBy::RadialHole => {
            Shape::RadialHole { diameter: length(&g.hole_diameter)?, point: g.point_angle.get()?.base() }
        }
        CutBy::AxialHole => Shape::AxialHole {
            diameter: length(&g.hole_diameter)?,
            point: g.point_angle.get()?.base(),
            circle: length(&g.pitch_radius)?,
        },
        CutBy::Flat => Shape::Flat { width: length(&g.width)? },
        CutBy::Arc => Shape::Arc { width: length(&g.width)?, full: g.full_arc.get()?.base() },
    };
    let surface = length(&g.surface).or_else(|| length(&g.pitch_radius))?;
    Some(Cut { shape, surface, density: g.density.get()?.base() })
}

/// Every limit that stands, with levers by the statics of a rigid body.
fn limits(rotor: &RotorResults<'_>, planes: &[Plane]) -> Result<Vec<Limit>, Cannot> {
    let mut limits = Vec::new();
    for limit in &rotor.limits {
        let name = limit.of.to_string();
        let Some(most) = limit.amount.get().map(Unbalance::base) else {
            return cannot(format!("the limit of {name} is not known"));
        };
        let place = |value: &Val<Length>| value.get().map(Typed::base);
        let lever = |plane: &Plane| match &limit.acts {
            Acts::AtBearing(n, bearings) => {
                let (a, b) = (place(&bearings[0])?, place(&bearings[1])?);
                Some(if *n == 0 { (b - plane.at) / (b - a) } else { (plane.at - a) / (b - a) })
            }
            Acts::InPlane => Some(f64::from(limit.of.plane() == Some(plane.name.as_str()))),
            Acts::Sum => Some(1.0),
            Acts::About(centre) => Some((plane.at - place(centre)?) / ARM.base()),
        };
        match planes.iter().map(lever).collect::<Option<Vec<f64>>>() {
            Some(levers) => limits.push(Limit { name, levers, most }),
            None => return cannot(format!("it is not known what acts at the limit of {name}")),
        }
    }
    if limits.is_empty() {
        return cannot("the rotor has no tolerance");
    }
    Ok(limits)
}

fn carried(
    facts: &Facts<'_>,
    setup: &SetupResults<'_>,
    rotor: &RotorResults<'_>,
    planes: usize,
    say: &mut dyn FnMut(&'static str, String, bool),
) -> Option<Carried> {
    let nth = |n: usize| facts.nth(&setup.block, setup::SUPPORTS_AT, n).get().or(rotor.bearings[n].get());
    let at = [nth(0)?.base(), nth(1)?.base()];
    let machine = setup.machine.as_ref()?;
    let hard = machine.block.choice(machine::SUPPORTS) == Some(Supports::Hard);
    if planes > 2 || at[0] == at[1] {
        return None;
    }
    let found = setup.resonance_ratio.get().map(Ratio::value).filter(|ratio| *ratio > 0.0);
    let (resonance, from, is_stated) = match (found, machine.block.choice(machine::WORKS), hard) {
        (Some(ratio), ..) => ([0.97 / ratio, 1.03 / ratio], "`resonance found at`, ± 3 %".to_owned(), true),
        (_, Some(Works::AtResonance), _) => ([0.97, 1.03], "within 3 % of the balancing speed".to_owned(), false),
        (_, Some(Works::BelowResonance), _) | (_, None, true) => {
            ([3.5, 8.0], format!("{} times the balancing speed", of_range(3.5, 8.0)), false)
        }
        _ => ([0.2, 0.45], format!("{} times the balancing speed", of_range(0.2, 0.45)), false),
    };
    say("resonance of rotor and supports", from, is_stated);
    Some(Carried { at, hard, resonance })
}

fn arbor(setup: &SetupResults<'_>, say: &mut dyn FnMut(&'static str, String, bool)) -> Arbor {
    let Some(block) = &setup.arbor else { return Arbor::None };
    let side = |fact| match block.field(fact).map(|field| &field.field.value) {
        Some(FieldValue::Reading(reading)) => {
            let angle = reading.angle.as_ref().map_or(0.0, |angle| angle.base);
            Some(Complex64::from_polar(reading.amount.base, angle))
        }
        _ => None,
    };
    if let (Some(left), Some(right)) = (side(arbor::UNBALANCE_LEFT), side(arbor::UNBALANCE_RIGHT)) {
        say("unbalance of the arbor", "as the arbor's sheet states it".into(), true);
        return Arbor::Stated([left, right]);
    }
    say("unbalance of the arbor", format!("{} of each plane's tolerance", of_range(0.01, 0.4)), false);
    Arbor::Between(0.01, 0.4)
}

/// How far above their tolerance the rotors of this setup came, as its records say.
fn as_found_of(computing: &Computing<'_>, id: ItemId, say: &mut dyn FnMut(&'static str, String, bool)) -> [f64; 2] {
    let book = computing.book();
    let records = book.naming(Kind::Setup, book.item(id).name_text()).iter();
    let records = records.filter(|id| book.item(**id).kind == Kind::Record);
    let mut found: Vec<f64> = Vec::new();
    let mut count = 0;
    for record in records {
        let Computed::Record(results) = computing.item(*record) else { continue };
        let Some(run) = results.runs.first() else { continue };
        let times = run.planes.iter().filter_map(|plane| plane.times_tolerance.as_ref()?.get().map(Ratio::value));
        let before = found.len();
        found.extend(times.filter(|times| *times > 0.0));
        count += usize::from(found.len() > before);
    }
    found.sort_by(f64::total_cmp);
    if let ([low, .., high], true) = (&found[..], count >= ENOUGH_RECORDS) {
        let [low, high] = [low * 0.8, high * 1.25];
        say("unbalance as found", format!("{low:.1} to {high:.1} times the tolerance, as in {count} records"), true);
        return [low, high];
    }
    let [low, high] = USUAL_AS_FOUND;
    say("unbalance as found", format!("{} times the tolerance of each plane", of_range(low, high)), false);
    USUAL_AS_FOUND
}
