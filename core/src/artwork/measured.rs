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
        ruling "Halftone ruling": Count where RULING,
        /// Direction of the rows, from the picture's width.
        angle "Halftone angle": Angle where ANGLE,
        /// Number of dots and holes, as artwork.measure counts them.
        dots "Dots and holes": Option<u32> where Rules::count(0.0),
    }
}

request! {
    /// A point of a picture.
    pub struct PicturePoint {
        /// Distance from the picture's left side.
        from_left "From the left": Length as Print where LENGTH,
        /// Distance from the picture's top.
        from_top "From the top": Length as Print where LENGTH,
    }
}

request! {
    /// What a separation covers, as artwork.measure answers it.
    pub struct ArtworkMeasure {
        /// Width of the box around the print.
        width "Print width": Option<Length> as Print where LENGTH.group("The printed area"),
        /// Height of the box around the print.
        height "Print height": Option<Length> as Print where LENGTH.group("The printed area"),
        /// Printed area; grey pixels count by their share of ink.
        printed_area "Printed area": Area where AREA.group("The printed area"),
        /// Covered share of the box around the print.
        coverage_fraction "Covered share": Option<f64> where Rules::FRACTION.group("The printed area"),
        /// Length of all edges of the printed area.
        edge_length "Total edge length": Option<Length> as Print where LENGTH.group("The edges"),
        /// Integral of exp(-x / L) over the printed area, x the distance to the nearest edge.
        edge_share_area "Edge-weighted area": Area where EDGE_AREA.group("The edges"),
        /// Finest printed line; of a halftone its finest dot.
        finest_line "Finest line in art": Option<Length> as Print where LENGTH.group("Fine detail"),
        /// Where the finest line is in the picture.
        finest_line_at "Place of finest line": Option<PicturePoint> where Rules::NONE.group("Fine detail"),
        /// Finest gap between prints.
        finest_gap "Finest gap in art": Option<Length> as Print where LENGTH.group("Fine detail"),
        /// Where the finest gap is in the picture.
        finest_gap_at "Place of finest gap": Option<PicturePoint> where Rules::NONE.group("Fine detail"),
        /// The halftone that this looks like.
        halftone "Halftone": Option<Halftone> where Rules::NONE.group("Fine detail"),
    }
    ignores("notes", "basis")
}

impl ArtworkMeasure {
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
