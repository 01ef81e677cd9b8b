//! Which blade, which frame.

use crate::error::Error;
use crate::note::Level;
use crate::quantity::{Length, OVERLAP, Rules, reaches, units};
use crate::source::Source;
use crate::wire::{Remarks, answer, calculation, request};

const SIDE: Rules = Rules::range(units::MM, 1.0, 10_000.0).usual(20.0, 1_000.0);
/// Free mesh at each end.
pub(crate) const FREE: Rules = Rules::range(units::MM, 0.0, 1_000.0)
    .usual(30.0, 250.0)
    .or(60.0, Source::common("suppliers: at least 5-6 cm of free mesh at each end, 15 cm for fine process work"));

request! {
    /// The inside of a frame.
    pub struct FrameInside {
        /// Inside of the frame across the stroke.
        width "Frame inside width": Length as Print where SIDE,
        /// Inside of the frame along the stroke.
        length "Frame inside length": Length as Print where SIDE,
    }
}

request! {
    /// An image, and perhaps a frame.
    pub struct SqueegeeRequest {
        /// Width of the image, across the stroke.
        image_width "Image width": Length where SIDE,
        /// Length of the image along the stroke.
        image_length "Image length": Length where SIDE,
        /// How far the blade stands over the image on each side.
        overlap "Blade overlap": Length where OVERLAP,
        /// Free mesh between blade or stroke end and frame, at each end.
        free_mesh "Free mesh": Length where FREE,
        /// The inside of the frame at hand.
        frame_inside "Frame at hand": Option<FrameInside>,
    }
}

answer! {
    /// Blade and frame.
    pub struct Squeegee {
        /// Length of the blade.
        blade_length "Blade length": Length as Print,
        /// Least inside of the frame.
        frame_least "Smallest frame": FrameInside,
        /// Whether the frame at hand is large enough.
        fits "Frame large enough": Option<bool>,
    }
}

calculation! {
    pub const SQUEEGEE: SqueegeeRequest => Squeegee = squeegee;
    id: "press.squeegee",
    title: "Blade and frame",
    question: "Which blade, which frame?",
    asked: ["How wide a squeegee do I take?", "Does this image fit my frame?"],
    headline: ["blade_length", "frame_least"],
    formula: "blade = image width + 2 overlap; frame inside at least blade + 2 free mesh by image length + 2 free mesh",
    sources: &[Source::common("suppliers and shops: overlap 1-2 cm a side, 5-6 cm of free mesh at each end")],
    example: r#"{"image_width": "320 mm", "image_length": "380 mm", "frame_inside": {"width": "500 mm", "length": "700 mm"}}"#,
}

/// Blade and least frame for an image.
///
/// # Errors
/// None for a request that was read.
pub(crate) fn squeegee(request: &SqueegeeRequest, remarks: &mut Remarks) -> Result<Squeegee, Error> {
    let blade_length = request.image_width + 2.0 * request.overlap;
    let frame_least = FrameInside::new()
        .width(blade_length + 2.0 * request.free_mesh)
        .length(request.image_length + 2.0 * request.free_mesh);
    let fits = request
        .frame_inside
        .as_ref()
        .map(|f| reaches(f.width, frame_least.width) && reaches(f.length, frame_least.length));
    let inside = |f: &FrameInside| reaches(f.width, blade_length) && reaches(f.length, request.image_length);
    if request.frame_inside.as_ref().is_some_and(|f| !inside(f)) {
        remarks.note(
            Level::Limit,
            "larger_than_frame",
            "/frame_inside",
            "blade or image do not go into this frame: a larger frame, or a smaller print",
        );
    } else if fits == Some(false) {
        remarks.caution(
            "frame_too_small",
            "/frame_inside",
            "too little free mesh: the blade near the frame stretches the mesh and prints off register; take a larger frame",
        );
    }
    Ok(Squeegee { blade_length, frame_least, fits })
}
