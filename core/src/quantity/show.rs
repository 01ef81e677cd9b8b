//! Which unit an answer is shown in, by what it measures and by the system the caller asked for.

use super::unit::{Dimension, Unit, rows};

/// The units of an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum System {
    /// Metric units.
    #[default]
    Metric,
    /// Units customary in the United States.
    Us,
}

/// How a quantity of an answer is shown. The dimension decides, except for lengths and speeds: a film, a print and a
/// machine are not measured with the same rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Show {
    /// As the dimension usually is.
    Usual,
    /// Films, threads, openings: `um`; what happens per length of film: `/mm`.
    Film,
    /// Ink volume of a mesh: `cm3/m2`.
    InkVolume,
    /// Sizes of prints, screens, blades: `mm` or `in`.
    Print,
    /// Lengths of machines: `m` or `ft`.
    Machine,
    /// Speeds of strokes: `cm/s` or `in/s`; belts go in `m/min` or `ft/min`.
    Stroke,
    /// How an answer was come by, such as how much work it was: no result, and never in doubt.
    Effort,
}

impl Show {
    /// The unit for a quantity of `si` base units.
    #[must_use]
    pub fn unit(self, dimension: Dimension, si: f64, system: System) -> Unit {
        use rows::*;
        let (metric, us) = match (dimension, self) {
            (Dimension::Length, Self::Film) => (UM, UM),
            (Dimension::Length, Self::InkVolume) => (CM3_PER_M2, CM3_PER_M2),
            (Dimension::Length, Self::Machine) => (M, FT),
            (Dimension::Length, _) => (MM, IN),
            (Dimension::Velocity, Self::Stroke) => (CM_PER_S, IN_PER_S),
            (Dimension::Velocity, _) => (M_PER_MIN, FT_PER_MIN),
            (Dimension::Mass, _) if si.abs() < 1.0 => (G, OZ),
            (Dimension::Mass, _) => (KG, LB),
            (Dimension::Time, _) if si.abs() < 600.0 => (S, S),
            (Dimension::Time, _) if si.abs() < 10_800.0 => (MIN, MIN),
            (Dimension::Time, _) => (H, H),
            (Dimension::Area, _) => (CM2, IN2),
            (Dimension::AreaPerMass, _) => (M2_PER_KG, FT2_PER_LB),
            (Dimension::PerMass, _) => (PER_KG, PER_LB),
            (Dimension::Volume, _) => (ML, FLOZ),
            (Dimension::Count, Self::Film) => (PER_MM, PER_MM),
            (Dimension::Count, _) => (PER_CM, PER_IN),
            (Dimension::MassPerArea, _) => (G_PER_M2, OZ_PER_YD2),
            (Dimension::MassFlux, _) => (G_PER_M2_H, OZ_PER_FT2_H),
            (Dimension::MassRate, _) => (G_PER_MIN, OZ_PER_MIN),
            (Dimension::Temperature, _) => (DEG_C, DEG_F),
            (Dimension::TemperatureDifference, _) => (KELVIN_STEP, DEG_F_STEP),
            (Dimension::Density, _) => (G_PER_CM3, LB_PER_GAL),
            (Dimension::Tension, _) => (N_PER_CM, N_PER_CM),
            (Dimension::Force, _) => (N, N),
            (Dimension::Angle, _) => (DEG, DEG),
            (Dimension::Frequency, _) => (PER_H, PER_H),
            (Dimension::Irradiance, _) => (MW_PER_CM2, MW_PER_CM2),
            (Dimension::RadiantExposure, _) => (MJ_PER_CM2, MJ_PER_CM2),
            (Dimension::Energy, _) => (KWH, KWH),
            (Dimension::Power, _) => (KW, KW),
            (Dimension::MolarEnergy, _) => (KJ_PER_MOL, KJ_PER_MOL),
            (Dimension::HeatTransfer, _) => (W_PER_M2_K, W_PER_M2_K),
            (Dimension::ThermalConductivity, _) => (W_PER_M_K, W_PER_M_K),
            (Dimension::SpecificHeat, _) => (J_PER_KG_K, J_PER_KG_K),
            (Dimension::Fraction, _) => (ONE, ONE),
        };
        match system {
            System::Metric => metric,
            System::Us => us,
        }
    }
}
