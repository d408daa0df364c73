//! What a surveyor knows of the tape, as typed: its corrections.

use super::draft::InHand;
use crate::words::capture as words;
use swingtie_core::record::{How, Instrument, Tape};
use swingtie_core::units::format::fixed;
use swingtie_core::units::tape::{Celsius, Newtons};
use swingtie_core::units::{Length, METRES_PER_FOOT, read_number};

/// What can be typed: marked length, length found when compared, temperature, pull, weight.
pub const FIELDS: usize = 5;

/// How many of the fields mean something for this instrument: how fibreglass stretches nobody says.
#[must_use]
pub const fn fields(instrument: Instrument) -> usize {
    match instrument {
        Instrument::SteelTape => FIELDS,
        Instrument::FibreglassTape => 2,
        _ => 0,
    }
}

/// Whether readings are corrected.
#[must_use]
pub fn corrected(how: &How) -> bool {
    fields(how.instrument) > 0 && how.tape.is_some()
}

/// What is typed is kept in metres, degrees Celsius, newtons and newtons a metre: what is typed as
/// nothing there, and how much one typed more is there. Where lengths are typed in metres all are typed
/// as they are kept.
const TYPED: [(f64, f64); FIELDS] = [
    (0.0, METRES_PER_FOOT),
    (0.0, METRES_PER_FOOT),
    (32.0, 1.0 / 1.8),
    (0.0, Newtons::from_pounds(1.0).0),
    (0.0, Newtons::from_pounds(0.01).0 / METRES_PER_FOOT),
];
/// The least and the most that is taken for a figure: beyond, it is a slip of the hand.
const TAKEN: [(f64, f64); FIELDS] = [(1.0, 500.0), (1.0, 500.0), (-60.0, 70.0), (1.0, 500.0), (0.01, 20.0)];

/// A tape's figures as they are typed.
#[must_use]
pub fn written(tape: &Tape, metric: bool) -> [String; FIELDS] {
    let mut typed = TYPED.into_iter();
    let kept = [
        tape.marked.map(Length::metres),
        tape.true_length.map(Length::metres),
        tape.temperature.map(|warm| warm.0),
        tape.pull.map(|pull| pull.0),
        tape.weight,
    ];
    kept.map(|kept| {
        let (nothing, one) = typed.next().filter(|_| !metric).unwrap_or((0.0, 1.0));
        let text = kept.map(|kept| fixed(kept / one + nothing, 4)).unwrap_or_default();
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
    })
}

/// What is typed of the tape, put into what is known of it; nothing typed and nothing known is no tape.
/// A figure that cannot be is left out: the number of the first such.
#[must_use]
pub fn read(
    texts: &[String; FIELDS],
    metric: bool,
    known: Option<&Tape>,
) -> (Option<Box<Tape>>, Option<usize>) {
    let (mut kept, mut wrong) = ([None; FIELDS], None);
    let limits = TYPED.into_iter().zip(TAKEN);
    for (number, ((text, kept), (typed, (least, most)))) in
        texts.iter().zip(&mut kept).zip(limits).enumerate()
    {
        let (nothing, one) = if metric { (0.0, 1.0) } else { typed };
        let value = read_number(text).map(|value| (value - nothing) * one);
        *kept = value.filter(|value| (least..=most).contains(value));
        if kept.is_none() && !text.trim().is_empty() {
            wrong = wrong.or(Some(number));
        }
    }
    let [marked, mut found, warm, pull, weight] = kept;
    // A tape that is off by a twentieth is another tape.
    if marked.zip(found).is_some_and(|(marked, found)| (found / marked - 1.0_f64).abs() > 0.05) {
        (found, wrong) = (None, Some(1));
    }
    let tape = Tape {
        marked: marked.map(Length::from_metres),
        true_length: found.map(Length::from_metres),
        temperature: warm.map(Celsius),
        pull: pull.map(Newtons),
        weight,
        ..known.copied().unwrap_or_default()
    };
    ((tape != Tape::default()).then(|| Box::new(tape)), wrong)
}

/// What readings of the corrected tape come to, for reading back: `100 ft read counts as 99.987 ft`.
#[must_use]
pub fn told(hand: InHand, metric: bool) -> String {
    let how = in_use(hand).how;
    let (read, unit) = if metric { (30.0, "m") } else { (100.0, "ft") };
    let long = if metric { Length::from_metres(read) } else { Length::from_feet(read) };
    let counts = how.corrected(long);
    let counts = if metric { counts.metres() } else { counts.feet() };
    words::counts_as(&format!("{read} {unit}"), &say!("{} {unit}", fixed(counts, 4)))
}

/// How it is said in the book: corrections only of tapes, and only those that mean something for it.
#[must_use]
pub fn in_use(mut hand: InHand) -> InHand {
    let how = &mut hand.how;
    how.tape = match (fields(how.instrument), how.tape.take()) {
        (0, _) => None,
        (FIELDS, tape) => tape,
        (_, tape) => tape.map(|tape| {
            let Tape { marked, true_length, .. } = *tape;
            Box::new(Tape { marked, true_length, ..Tape::default() })
        }),
    };
    hand
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(texts: [&str; FIELDS], metric: bool) -> Option<Box<Tape>> {
        let (tape, wrong) = read(&texts.map(str::to_owned), metric, None);
        assert_eq!(wrong, None, "{texts:?}");
        tape
    }

    // The pound-force is 4.4482216152605 N, the foot 0.3048 m (exact), 68 °F are 20 °C.
    #[test]
    fn american_figures_are_kept_in_metres_and_newtons() {
        let tape = typed(["100", "100.02", "68", "15", "2"], false).unwrap();
        let close = |got: f64, want: f64| assert!((got - want).abs() < 1e-9, "{got}, not {want}");
        close(tape.marked.unwrap().metres(), 30.48);
        close(tape.true_length.unwrap().metres(), 30.486_096);
        close(tape.temperature.unwrap().0, 20.0);
        close(tape.pull.unwrap().0, 66.723_324_228_907_5);
        close(tape.weight.unwrap(), 2.0 * 4.448_221_615_260_5 / 30.48);
        assert_eq!(written(&tape, false), ["100", "100.02", "68", "15", "2"]);
        assert_eq!(typed(["30", "30.004", "25", "50", "0.15"], true).unwrap().pull, Some(Newtons(50.0)));
    }

    // C = (l' − l)/l · L, the textbooks' standard length: a tape of 100.02 ft that says 100 reads 50 ft
    // where 50.01 ft are.
    #[test]
    fn what_it_makes_of_a_reading_is_read_back() {
        let how = How { tape: typed(["100", "100.02", "", "", ""], false), ..How::default() };
        assert!((how.corrected(Length::from_feet(50.0)).feet() - 50.01).abs() < 1e-9);
        assert_eq!(told(InHand { how, ..InHand::default() }, false), "100 ft read counts as 100.0200 ft.");
    }

    #[test]
    fn nothing_typed_is_no_tape_and_what_cannot_be_is_named() {
        assert_eq!(typed([""; FIELDS], false), None);
        for (number, texts) in [
            ["none", "", "", "", ""],
            ["100", "20", "", "", ""],
            ["", "", "400", "", ""],
            ["", "", "", "-3", ""],
            ["", "", "", "", "0"],
        ]
        .into_iter()
        .enumerate()
        {
            let (tape, wrong) = read(&texts.map(str::to_owned), false, None);
            assert_eq!(wrong, Some(number), "{texts:?}");
            assert!(tape.is_none_or(|tape| tape.marked.is_some() && tape.true_length.is_none()));
        }
    }

    #[test]
    fn a_laser_is_not_corrected_for_the_tape() {
        let tape = typed(["100", "100.02", "90", "", ""], false);
        let how = |instrument| {
            in_use(InHand {
                how: How { instrument, tape: tape.clone(), ..How::default() },
                ..InHand::default()
            })
            .how
        };
        assert_eq!(how(Instrument::SteelTape).tape, tape);
        assert_eq!(how(Instrument::Laser).tape, None);
        let fibreglass = how(Instrument::FibreglassTape).tape.unwrap();
        assert_eq!((fibreglass.temperature, fibreglass.marked), (None, Some(Length::from_feet(100.0))));
    }
}
