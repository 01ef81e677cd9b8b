//! A film that scatters and absorbs light, over a ground: the two-flux layer of Kubelka and Munk, and the surface over it.
//!
//! All reflectances are of achromatic surfaces, from 0 to 1. S and K are the scattering and the absorption coefficient per length, X is the
//! thickness of the film, Rg the reflectance of its ground.

use crate::quantity::{Count, Dimensioned, Length};
use crate::root::bisect;

/// Where the lightness scale changes from a line to a cube root: (6/29)^3 of the white.
const KNEE: f64 = 216.0 / 24_389.0;
/// The slope of the line: (29/3)^3.
const SLOPE: f64 = 24_389.0 / 27.0;
/// The lightness at the knee.
const KNEE_LIGHTNESS: f64 = 8.0;
/// What a film that absorbs nothing may seem to give off by rounding of the readings.
const ROUNDING: f64 = 1e-9;

/// CIE 1976 lightness L* of a reflectance Y/Yn: `116 Y^(1/3) - 16` above (6/29)^3, `(29/3)^3 Y` below (CIE 15, ISO/CIE 11664-4).
#[must_use]
pub fn lightness(reflectance: f64) -> f64 {
    if reflectance > KNEE { 116.0 * libm::cbrt(reflectance) - 16.0 } else { SLOPE * reflectance }
}

/// The reflectance of a lightness L*: [`lightness`] turned round.
#[must_use]
pub fn reflectance(lightness: f64) -> f64 {
    if lightness > KNEE_LIGHTNESS {
        let root = (lightness + 16.0) / 116.0;
        root * root * root
    } else {
        lightness / SLOPE
    }
}

/// The surface of a film: what is reflected before light enters, and what is kept in when it leaves (Saunderson, 1942).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// k1, the share of light that the surface reflects from outside.
    pub outer: f64,
    /// k2, the share of diffuse light that it reflects back from inside.
    pub inner: f64,
    /// Whether a reading holds what the surface reflects: the gloss.
    pub specular: bool,
}

impl Surface {
    /// What a reading holds of the surface itself.
    fn gloss(self) -> f64 {
        if self.specular { self.outer } else { 0.0 }
    }

    /// What is read of a film that reflects so much below its surface: `R' = (k1) + (1 - k1)(1 - k2) R / (1 - k2 R)`.
    #[must_use]
    pub fn read(self, inside: f64) -> f64 {
        self.gloss() + (1.0 - self.outer) * (1.0 - self.inner) * inside / (1.0 - self.inner * inside)
    }

    /// What a film reflects below its surface, of which so much is read: [`Self::read`] turned round. Below 0 where less is read than the
    /// surface alone reflects, above 1 where more is read than any film reflects.
    #[must_use]
    pub fn inside(self, read: f64) -> f64 {
        let seen = read - self.gloss();
        seen / ((1.0 - self.outer) * (1.0 - self.inner) + self.inner * seen)
    }
}

/// How a film scatters and absorbs light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Optics {
    /// S, per length.
    pub scattering: Count,
    /// K, per length.
    pub absorption: Count,
}

impl Optics {
    /// b S, the rate at which light fades within a thick film: `sqrt(K (K + 2 S))`.
    fn fading(self) -> f64 {
        let (s, k) = (self.scattering.si(), self.absorption.si());
        (k * (k + 2.0 * s)).sqrt()
    }

    /// The reflectance of a film X thick over a ground Rg.
    ///
    /// `R = (1 - Rg (a - b coth(b S X))) / (a - Rg + b coth(b S X))` with `a = 1 + K / S`, `b = sqrt(a^2 - 1)` (Kubelka and Munk, 1931),
    /// multiplied out by `T = tanh(b S X) / (b S)`, so that it holds for K = 0, S = 0 and any thickness:
    /// `((S - (S + K) Rg) T + Rg) / ((S + K - S Rg) T + 1)`.
    #[must_use]
    pub fn over(self, ground: f64, film: Length) -> f64 {
        let (s, k, x) = (self.scattering.si(), self.absorption.si(), film.si());
        let fading = self.fading();
        let t = if fading > 0.0 { libm::tanh(fading * x) / fading } else { x };
        let over = ((s - (s + k) * ground) * t + ground) / ((s + k - s * ground) * t + 1.0);
        over.clamp(0.0, 1.0)
    }

    /// The reflectance of a film so thick that its ground is not seen: `1 / (a + b)`, which is `S / (S + K + sqrt(K (K + 2 S)))`.
    #[must_use]
    pub fn thick(self) -> f64 {
        let (s, k) = (self.scattering.si(), self.absorption.si());
        let sum = s + k + self.fading();
        if sum > 0.0 { s / sum } else { 0.0 }
    }

    /// The thickness at which a film over a ground reflects so much; none where no film does.
    #[must_use]
    pub fn film_for(self, reflectance: f64, ground: f64) -> Option<Length> {
        let (s, k) = (self.scattering.si(), self.absorption.si());
        let t = (reflectance - ground) / (s * (1.0 + reflectance * ground) - (s + k) * (reflectance + ground));
        let fading = self.fading();
        let x = if fading > 0.0 { libm::atanh(fading * t) / fading } else { t };
        // Beyond the thick film the inverse has no value, or a negative one.
        (x.is_finite() && x >= 0.0).then(|| Length::from_si(x))
    }

    /// The contrast of a film between two grounds: what it reflects over the darker one, of what it reflects over the lighter one.
    #[must_use]
    pub fn contrast(self, film: Length, grounds: [f64; 2], surface: Surface) -> f64 {
        let [dark, light] = grounds.map(|ground| surface.read(self.over(ground, film)));
        if light > 0.0 { dark / light } else { 1.0 }
    }

    /// The thickness at which the contrast reaches a share below 1; none for a film that neither scatters nor absorbs.
    #[must_use]
    pub fn film_for_contrast(self, contrast: f64, grounds: [f64; 2], surface: Surface) -> Option<Length> {
        let (s, k) = (self.scattering.si(), self.absorption.si());
        if s + k <= 0.0 {
            return None;
        }
        let (mut high, short) = (1.0 / (s + k), |x| self.contrast(Length::from_si(x), grounds, surface) < contrast);
        // A film 1e12 times as thick as light goes hides whatever can be hidden.
        for _ in 0..40 {
            if !short(high) {
                let (low, _) = bisect(0.0, high, 80, short);
                return Some(Length::from_si(low));
            }
            high *= 2.0;
        }
        None
    }
}

/// What two readings of one film say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fitted {
    /// S and K.
    Optics(Optics),
    /// It hides its ground: the readings fit any film that is as thick or thicker.
    Opaque,
    /// No film that scatters and absorbs light reflects so.
    Nothing,
}

/// S and K of a film from its reflectances over two grounds, the darker one first.
///
/// `u (R + Rg) - t (1 + R Rg) = Rg - R` over each ground, linear in `t = tanh(b S X) / b` and `u = a t`; then `a = u / t` and
/// `S X = artanh(b t) / b`.
#[must_use]
pub fn fitted(film: Length, grounds: [f64; 2], reflectances: [f64; 2]) -> Fitted {
    let ([dark, light], [over_dark, over_light]) = (grounds, reflectances);
    let (u0, t0, c0) = (over_dark + dark, 1.0 + over_dark * dark, dark - over_dark);
    let (u1, t1, c1) = (over_light + light, 1.0 + over_light * light, light - over_light);
    let determinant = t0 * u1 - u0 * t1;
    let t = (u0 * c1 - u1 * c0) / determinant;
    // a - 1 = (u - t) / t without the difference of two near numbers of the quotient.
    let share = ((c1 * t0 - c0 * t1) - (u0 * c1 - u1 * c0)) / determinant / t;
    if !t.is_finite() || t <= 0.0 || !share.is_finite() || share < -ROUNDING {
        return Fitted::Nothing;
    }
    let share = share.max(0.0);
    let b = (share * (share + 2.0)).sqrt();
    if b * t >= 1.0 {
        return Fitted::Opaque;
    }
    let optical = if b > 0.0 { libm::atanh(b * t) / b } else { t };
    let scattering = Count::from_si(optical / film.si());
    Fitted::Optics(Optics { scattering, absorption: share * scattering })
}

/// K of an opaque film that reflects so much, as a multiple of S: `(1 - R)^2 / (2 R)`.
#[must_use]
pub fn absorbed(thick: f64) -> f64 {
    (1.0 - thick) * (1.0 - thick) / (2.0 * thick)
}
