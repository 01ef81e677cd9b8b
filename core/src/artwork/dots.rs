//! Dots of a halftone: how much they cover, and what a border that every edge gains makes of them.
//!
//! A tone is told here by its *reach*, a length over the pitch of the dots that grows by as much as the border of every edge: for
//! round dots their radius. So a border is added to the reach, whatever the tone, and taken off it again.

use crate::quantity::{Count, Length};
use crate::root::bisect;
use crate::wire::words;
use core::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_4, PI};

/// The reach of half a tone of dots that do not touch: sqrt(1 / (2 pi)).
const HALF: f64 = 0.398_942_280_401_432_7;
/// Halvings until no number lies between the ends.
const HALVINGS: u32 = 60;

words! {
    /// The shape of a halftone's dots.
    pub enum DotShape ("dot shape") {
        /// Round dots up to the full tone: above 78.5 % they overlap.
        Round = "round",
        /// Dots below half and holes above, a negative of one another.
        Euclidean = "euclidean",
        /// Ellipses that join to chains, reckoned as euclidean dots.
        Elliptical = "elliptical",
    }
}

/// The share that round dots cover on a square lattice, from their radius over the pitch.
///
/// With x = r / p, dimensionless: `pi x^2` to x = 1/2, where neighbours touch; `pi x^2 - 4 x^2 acos(1/(2 x)) + sqrt(4 x^2 - 1)`, the
/// four overlaps taken off, to x = 1/sqrt(2), where the last hole closes; 1 from there on, and 0 for x below 0. Exact.
///
/// Source: geometry of overlapping circles.
#[must_use]
pub fn dots_cover(radius_over_pitch: f64) -> f64 {
    let x = radius_over_pitch;
    if x <= 0.0 {
        0.0
    } else if x <= 0.5 {
        PI * x * x
    } else if x < FRAC_1_SQRT_2 {
        let overlaps = 4.0 * x * x * libm::acos(0.5 / x) - (4.0 * x * x - 1.0).sqrt();
        (PI * x * x - overlaps).min(1.0)
    } else {
        1.0
    }
}

/// The radius over the pitch at which round dots cover a share: the inverse of [`dots_cover`], 0 to 1/sqrt(2).
///
/// With phi, in rad, the half angle of the arc that is left between two overlaps, what is open is
/// `(2 sin(phi)^2 - (2 phi - sin(2 phi))) / (1 + sin(2 phi))` and `r / p = 1 / (2 cos(pi/4 - phi))`; phi by halving, which
/// is good to the last digit at both ends.
#[must_use]
pub fn dots_radius(tone_fraction: f64) -> f64 {
    if tone_fraction <= FRAC_PI_4 {
        return (tone_fraction.max(0.0) / PI).sqrt();
    }
    let open = 1.0 - tone_fraction;
    let (low, _) = bisect(0.0, FRAC_PI_4, HALVINGS, |phi| {
        let (sine, sine_of_both) = (libm::sin(phi), libm::sin(2.0 * phi));
        (2.0 * sine * sine - (2.0 * phi - sine_of_both)) / (1.0 + sine_of_both) < open
    });
    0.5 / libm::cos(FRAC_PI_4 - low)
}

impl DotShape {
    /// The reach of a tone, dimensionless: what a border adds to, as a share of the pitch.
    ///
    /// Round: the radius over the pitch, [`dots_radius`]. Euclidean: `sqrt(a / pi)` to half a tone, the radius of round dots, and
    /// `2 sqrt(1 / (2 pi)) - sqrt((1 - a) / pi)` above, so that holes shrink as dots grow: a border acts along the edge that the
    /// screen has at that tone, and the scale is symmetric about half. At half itself such dots are squares, whose edge is 13 %
    /// longer than reckoned here, and what corners fill in where they join is not in it. Elliptical: as euclidean. An ellipse
    /// with axes of 3 to 4 has an edge 1.6 % longer than the circle; between the two tones at which chains join the edge is up
    /// to a tenth longer or a fifth shorter.
    #[must_use]
    pub fn reach(self, tone_fraction: f64) -> f64 {
        let tone = tone_fraction.clamp(0.0, 1.0);
        match self {
            Self::Round => dots_radius(tone),
            Self::Euclidean | Self::Elliptical if tone <= 0.5 => (tone / PI).sqrt(),
            Self::Euclidean | Self::Elliptical => 2.0 * HALF - ((1.0 - tone) / PI).sqrt(),
        }
    }

    /// The tone of a reach, the inverse of [`Self::reach`]: 0 below its range, 1 above.
    #[must_use]
    pub fn tone(self, reach: f64) -> f64 {
        match self {
            Self::Round => dots_cover(reach),
            Self::Euclidean | Self::Elliptical if reach <= HALF => dots_cover(reach),
            Self::Euclidean | Self::Elliptical => 1.0 - dots_cover(2.0 * HALF - reach),
        }
    }

    /// The reach of the full tone.
    #[must_use]
    pub const fn solid(self) -> f64 {
        match self {
            Self::Round => FRAC_1_SQRT_2,
            Self::Euclidean | Self::Elliptical => 2.0 * HALF,
        }
    }

    /// How fast the tone grows with the reach: the length of all edges in a cell, over the pitch; 0 where there is none.
    #[must_use]
    pub fn edge(self, reach: f64) -> f64 {
        if reach <= 0.0 || reach >= self.solid() {
            return 0.0;
        }
        match self {
            Self::Round if reach <= 0.5 => 2.0 * PI * reach,
            Self::Round => 8.0 * reach * (FRAC_PI_4 - libm::acos(0.5 / reach)).max(0.0),
            Self::Euclidean | Self::Elliptical => 2.0 * PI * reach.min(2.0 * HALF - reach),
        }
    }
}

/// The tone that a film's tone prints as where every edge moves out by `growth`, in where it is negative.
///
/// `tone(reach(film) + growth x ruling)`, growth a length and ruling lines per length; tones 0 to 1. Bare film stays bare and a solid
/// solid: they have no edges. More growth never gives less, and none gives the tone itself.
///
/// Source: geometry; round dots on a square lattice at the ruling's pitch.
#[must_use]
pub fn grown_tone(dot: DotShape, film_fraction: f64, ruling: Count, growth: Length) -> f64 {
    let by: f64 = (growth * ruling).into();
    if film_fraction <= 0.0 {
        0.0
    } else if film_fraction >= 1.0 {
        1.0
    } else if by == 0.0 {
        film_fraction
    } else {
        dot.tone(dot.reach(film_fraction) + by)
    }
}

/// The film's tone that prints as a tone: [`grown_tone`] turned round.
///
/// What no dot is small enough for, or no hole large enough, is asked of a film that is bare, or solid: 0 or 1.
#[must_use]
pub fn film_tone(dot: DotShape, printed_fraction: f64, ruling: Count, growth: Length) -> f64 {
    grown_tone(dot, printed_fraction, ruling, -growth)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::units;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    const SHAPES: [DotShape; 3] = [DotShape::Round, DotShape::Euclidean, DotShape::Elliptical];

    #[test]
    fn half_is_where_dots_and_holes_are_as_large() {
        assert_relative_eq!(PI * HALF * HALF, 0.5, epsilon = 0.0, max_relative = 1e-15);
        let ends = [dots_cover(-1.0), dots_cover(0.0), dots_cover(0.75), dots_radius(0.0)];
        assert_eq!(ends.map(f64::to_bits), [0.0, 0.0, 1.0, 0.0_f64].map(f64::to_bits));
        assert_relative_eq!(dots_radius(1.0), FRAC_1_SQRT_2, epsilon = 0.0, max_relative = 1e-15);
    }

    /// Hand: at 20 /cm 25 um are a twentieth of the pitch; the dot of 10 % has sqrt(0.1 / pi) = 0.17841241 of it, grown 0.22841241,
    /// pi x 0.22841241^2 = 0.16390389. A hole of as much shrinks: of 90 % film 10 % are open, 0.12841241 left, pi x 0.12841241^2 =
    /// 0.05180407 open.
    #[test]
    fn a_twentieth_of_the_pitch() {
        let (ruling, growth) = (units::PER_CM.of(20.0), units::UM.of(25.0));
        for shape in SHAPES {
            assert_relative_eq!(
                grown_tone(shape, 0.1, ruling, growth),
                0.163_903_89,
                epsilon = 0.0,
                max_relative = 1e-7
            );
        }
        let darkest = grown_tone(DotShape::Euclidean, 0.9, ruling, growth);
        assert_relative_eq!(1.0 - darkest, 0.051_804_07, epsilon = 0.0, max_relative = 1e-6);
    }

    proptest! {
        /// The edge is the slope of the tone: against central differences.
        #[test]
        fn the_edge_is_how_fast_the_tone_grows(share in 0.01_f64..0.99) {
            for shape in SHAPES {
                let (at, step) = (share * shape.solid(), 1e-6);
                let slope = (shape.tone(at + step) - shape.tone(at - step)) / (2.0 * step);
                // The round dots' slope bends sharply where they touch.
                assert_relative_eq!(shape.edge(at), slope, epsilon = 0.0, max_relative = 5e-3);
            }
        }

        #[test]
        fn reach_and_tone_are_one_another_turned_round(tone in 0.0_f64..1.0) {
            for shape in SHAPES {
                assert_relative_eq!(shape.tone(shape.reach(tone)), tone, epsilon = 4e-16, max_relative = 1e-14);
            }
        }

        /// More growth never lightens, darker film never prints lighter, all stays a share, and none is the identity.
        #[test]
        fn growth_is_monotone(
            film in 0.0_f64..=1.0, other in 0.0_f64..=1.0, um in -150.0_f64..150.0, more in 0.0_f64..100.0, per_cm in 2.0_f64..60.0,
        ) {
            let ruling = units::PER_CM.of(per_cm);
            for shape in SHAPES {
                let print = |film: f64, um: f64| grown_tone(shape, film, ruling, units::UM.of(um));
                let (lighter, darker) = (film.min(other), film.max(other));
                prop_assert!((0.0..=1.0).contains(&print(film, um)));
                prop_assert!(print(film, um + more) >= print(film, um) - 4e-16);
                prop_assert!(print(darker, um) >= print(lighter, um) - 4e-16);
                prop_assert_eq!(print(film, 0.0).to_bits(), film.to_bits());
            }
        }

        /// A negative of a euclidean film, printed with as much loss, is the negative of its print.
        #[test]
        fn euclidean_dots_are_symmetric_about_half(film in 0.0_f64..=1.0, um in -100.0_f64..100.0) {
            let print = |film, um| grown_tone(DotShape::Euclidean, film, units::PER_CM.of(20.0), units::UM.of(um));
            let negative = 1.0 - print(1.0 - film, -um);
            assert_relative_eq!(print(film, um), negative, epsilon = 1e-12, max_relative = 1e-12);
        }
    }
}
