//! The answer of `artwork.measure`, as other calculations take it.

use crate::error::{Code, Error};
use crate::mesh::{ANGLE, RULING};
use crate::quantity::{Angle, Area, Count, Length, Rules, reaches, units};
use crate::wire::{At, Input, Remarks, request};
use serde_json::Value;

const AREA: Rules = Rules::range(units::CM2, 1e-12, 1e12);
const EDGE_AREA: Rules = Rules::range(units::CM2, 0.0, 1e12);
const LENGTH: Rules = Rules::range(units::MM, 0.0, 1e12);

/// A member that is accepted and not looked at: the notes and basis of another answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ignored;

impl Input for Ignored {
    fn read(_value: &Value, _at: At<'_>, _rules: &Rules, _remarks: &mut Remarks) -> Result<Self, Error> {
        Ok(Self)
    }
    fn wanted() -> String {
        "anything".into()
    }
    #[cfg(feature = "schema")]
    fn schema(_rules: &Rules, _generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({})
    }
}

request! {
    /// The dots of a halftone.
    pub struct Halftone {
        /// Rows of dots per length.
        ruling: Count where RULING,
        /// Direction of the rows, from the picture's width.
        angle: Angle where ANGLE,
        /// Dots and holes, as artwork.measure counts them.
        dots: Option<u32> where Rules::count(0.0),
    }
}

request! {
    /// A separation as artwork.measure answers it.
    pub struct Measured {
        /// Width of the box around the print.
        width: Option<Length> where LENGTH,
        /// Height of the box around the print.
        height: Option<Length> where LENGTH,
        /// Printed area.
        printed_area: Area where AREA,
        /// Covered share of the box.
        coverage_fraction: Option<f64> where Rules::FRACTION,
        /// Length of all edges.
        edge_length: Option<Length> where LENGTH,
        /// Integral of exp(-x / L) over the printed area, x the distance to the nearest edge.
        edge_share_area: Area where EDGE_AREA,
        /// Finest printed line.
        finest_line: Option<Length> where LENGTH,
        /// Ignored.
        finest_line_at: Option<Ignored>,
        /// Finest gap.
        finest_gap: Option<Length> where LENGTH,
        /// Ignored.
        finest_gap_at: Option<Ignored>,
        /// The halftone that it looks like.
        halftone: Option<Halftone>,
        /// Ignored.
        notes: Option<Ignored>,
        /// Ignored.
        basis: Option<Ignored>,
    }
}

impl Measured {
    /// Share of the stencil's thickness that the edges take part in: the edge integral over the printed area.
    ///
    /// # Errors
    /// `impossible` where the edges would take more than the print.
    pub fn edge_share(&self, at: &str) -> Result<f64, Error> {
        if !reaches(self.printed_area, self.edge_share_area) {
            return Err(Error::new(
                Code::Impossible,
                format!("{at}/edge_share_area"),
                "the edges cannot take more than the printed area: give the whole answer of artwork.measure, unchanged",
            ));
        }
        let share: f64 = (self.edge_share_area / self.printed_area).into();
        Ok(share.min(1.0))
    }
}
