//! The triangles between the frame's edges and the blade: exact lengths, whatever the gap.

use crate::quantity::{Dimensioned, Length};

/// How much longer a mesh gets that rises by `gap` over `run`: sqrt(run^2 + gap^2) - run, without the loss of digits.
fn rise(run: f64, gap: f64) -> f64 {
    gap * (gap / (libm::hypot(run, gap) + run))
}

/// Stretch of mesh over a span, pressed down by `gap` at `before` from one edge and `after` from the other:
/// (sqrt(before^2 + gap^2) + sqrt(after^2 + gap^2)) / (before + after) - 1.
///
/// For lengths above zero; none at gap zero. Source: exact lengths of two right triangles.
#[must_use]
pub fn stretch(before: Length, after: Length, gap: Length) -> f64 {
    (rise(before.si(), gap.si()) + rise(after.si(), gap.si())) / (before.si() + after.si())
}

/// Stretch of mesh across the stroke: flat under a blade that stands in the middle of the span, and up over
/// c = (span - blade) / 2 on both sides: 2 (sqrt(c^2 + gap^2) - c) / span.
///
/// The threads run past each other and under the blade as if alone: weave and stencil spread the stretch further, so this is
/// the most. For a blade shorter than the span. Source: exact lengths of two right triangles.
#[must_use]
pub fn stretch_across(span: Length, blade: Length, gap: Length) -> f64 {
    2.0 * rise((span - blade).si() / 2.0, gap.si()) / span.si()
}

/// By what share an image of this length, in the middle of the span, prints longer than it is on the screen; nothing where
/// no blade within the frame can print its ends, which is where (span - image)^2 <= 4 gap^2 image / span.
///
/// With the blade at a and b from the edges, evenly strained mesh lies under it with a share la / (la + lb) of itself on the
/// one side, la = sqrt(a^2 + gap^2), lb likewise. So a mark prints ((la + lb) / span)^2 times as far from mid span as it
/// stands. Points of one la + lb lie on an ellipse with the edges as its foci, which gives this share m in closed form:
/// t^2 m^2 - (1 - t^2) m + h^2 = 0 with t = image / span, h = 2 gap / span.
/// For small gaps m = h^2 / (1 - t^2): twice the stretch at mid span for a short image, and more for a long one.
/// Friction of the blade, which drags the mesh along, is not in it. Source: geometry, derived here.
#[must_use]
pub fn print_growth(span: Length, gap: Length, image: Length) -> Option<f64> {
    let (t, h) = (image.si() / span.si(), 2.0 * gap.si() / span.si());
    let free = (span - image).si() / span.si();
    if !(free > 0.0 && free * free > h * h * t) {
        return None;
    }
    let p = free * (1.0 + t);
    // Positive wherever the ends can be printed: 1 + t is at least 2 sqrt(t).
    let root = (p * p - 4.0 * t * t * h * h).max(0.0).sqrt();
    Some(2.0 * h * h / (p + root))
}

/// How much further apart two marks print than they stand on the screen, `from` and `to` being their distances from one edge
/// of the frame; nothing where one of them cannot be printed. See [`print_growth`].
///
/// ```
/// use floodbar::quantity::{Length, units::MM};
/// let mm = |value: f64| MM.of(value);
/// let wider = |gap: f64| floodbar::tension::growth(mm(500.0), mm(gap), mm(60.0), mm(440.0)).map(|growth| MM.value(growth));
/// // About 4 gap^2 image / (span^2 - image^2): 0.13 mm at 3 mm, four times as much at 6 mm.
/// assert!(wider(3.0).is_some_and(|growth| (growth - 0.13).abs() < 0.01));
/// assert!(wider(6.0).is_some_and(|growth| (growth - 0.52).abs() < 0.01));
/// ```
#[must_use]
pub fn growth(span: Length, gap: Length, from: Length, to: Length) -> Option<Length> {
    let outward = |mark: Length| {
        let off = 2.0 * mark - span;
        Some(off / 2.0 * print_growth(span, gap, off.abs())?)
    };
    let growth = outward(to)? - outward(from)?;
    Some(if from > to { -growth } else { growth })
}
