//! The answer of `artwork.measure`, which other calculations take as it stands.

use crate::error::{Code, Error};
use crate::mesh::{ANGLE, RULING};
use crate::quantity::{Angle, Area, Count, Length, Rules, reaches, units};
use crate::wire::request;

const AREA: Rules = Rules::range(units::CM2, 1e-12, 1e12);
const EDGE_AREA: Rules = Rules::range(units::CM2, 0.0, 1e12);
const LENGTH: Rules = Rules::range(units::MM, 0.0, 1e12);

request! {
    /// The dots of a halftone.
    pub struct Halftone {
        /// Rows of dots per length.
        ruling "Ruling": Count where RULING,
        /// Direction of the rows, from the picture's width.
        angle "Angle": Angle where ANGLE,
        /// Dots and holes, as artwork.measure counts them.
        dots "Dots and holes": Option<u32> where Rules::count(0.0),
    }
}

request! {
    /// A point of a picture.
    pub struct PicturePoint {
        /// From its left side.
        from_left "From the left": Length as Print where LENGTH,
        /// From its top.
        from_top "From the top": Length as Print where LENGTH,
    }
}

request! {
    /// What a separation covers, as artwork.measure answers it.
    pub struct Measured {
        /// Width of the box around the print.
        width "Width": Option<Length> as Print where LENGTH,
        /// Height of the box around the print.
        height "Height": Option<Length> as Print where LENGTH,
        /// Printed area; grey pixels count by their share of ink.
        printed_area "Printed area": Area where AREA,
        /// Covered share of the box.
        coverage_fraction "Coverage": Option<f64> where Rules::FRACTION,
        /// Length of all edges.
        edge_length "Edge length": Option<Length> as Print where LENGTH,
        /// Integral of exp(-x / L) over the printed area, x the distance to the nearest edge.
        edge_share_area "Edge share area": Area where EDGE_AREA,
        /// Finest printed line; of a halftone its finest dot.
        finest_line "Finest line": Option<Length> as Print where LENGTH,
        /// Where the finest line is.
        finest_line_at "Finest line at": Option<PicturePoint>,
        /// Finest gap between prints.
        finest_gap "Finest gap": Option<Length> as Print where LENGTH,
        /// Where the finest gap is.
        finest_gap_at "Finest gap at": Option<PicturePoint>,
        /// The halftone that this looks like.
        halftone "Halftone": Option<Halftone>,
    }
    ignores("notes", "basis")
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
