//! The faces of a stack: convection, a radiant panel, a flux, or a fixed temperature, and any sum of the first three.
//!
//! `q = h (T_air - T) + exchange_fraction x sigma (T_panel^4 - T^4) + flux`, kelvin, into the stack (W/m2).

use crate::air::STEFAN_BOLTZMANN;
use crate::error::{Code, Error};
use crate::quantity::{
    Dimensioned, HEAT, HUMIDITY, HeatTransfer, Irradiance, Rank, Rules, TRANSFER, Temperature, units,
};
use crate::wire::{Choice, request};

/// Mass of vapour over mass of dry air in a room.
pub const ROOM_HUMIDITY: f64 = 0.010;

const FLUX: Rules = Rules::range(units::KW_PER_M2, -1e5, 1e5).usual(-200.0, 200.0);

request! {
    /// What one face meets; nothing at all is an insulated face.
    pub struct FaceRequest {
        /// Temperature of the air; goes with transfer.
        air "Air temperature": Option<Temperature> where HEAT.rank(Rank::First).group("The air"),
        /// Convection coefficient; goes with air.
        transfer "Heat transfer": Option<HeatTransfer> where TRANSFER.rank(Rank::First).group("The air"),
        /// Mass of water vapour over mass of dry air.
        humidity_ratio "Humidity ratio": Option<f64>
            where HUMIDITY.rank(Rank::Rare).group("The air").unless_given("0.010, a room"),
        /// Temperature of a radiant panel; goes with exchange_fraction.
        panel "Panel temperature": Option<Temperature> where HEAT.group("The panel"),
        /// Share of black-body exchange with the panel; goes with panel.
        exchange_fraction "Panel exchange share": Option<f64> where Rules::FRACTION.group("The panel"),
        /// Heat flux into the face.
        flux "Heat flux in": Option<Irradiance> where FLUX,
        /// The face is held at this temperature; goes with nothing else.
        temperature "Face held at": Option<Temperature> where HEAT,
    }
    chooses(
        Choice::All(&["air", "transfer"]),
        Choice::All(&["panel", "exchange_fraction"]),
        Choice::Most(&["temperature", "air"]),
        Choice::Most(&["temperature", "panel"]),
        Choice::Most(&["temperature", "flux"])
    )
}

impl FaceRequest {
    /// The face, once its members are known to fit together.
    ///
    /// # Errors
    /// `missing_field` for one half of a pair, `impossible` for a held temperature beside anything else.
    pub fn face(&self, at: &str) -> Result<Face, Error> {
        let pairs = [
            ("air", self.air.is_some(), "transfer", self.transfer.is_some()),
            ("panel", self.panel.is_some(), "exchange_fraction", self.exchange_fraction.is_some()),
        ];
        for (first, has_first, second, has_second) in pairs {
            let absent = if has_first { second } else { first };
            if has_first != has_second {
                return Err(Error::new(
                    Code::MissingField,
                    format!("{at}/{absent}"),
                    format!("`{first}` and `{second}` go together"),
                )
                .allowed([absent]));
            }
        }
        if self.temperature.is_some() && (self.air.is_some() || self.panel.is_some() || self.flux.is_some()) {
            return Err(Error::new(
                Code::Impossible,
                format!("{at}/temperature"),
                "a face held at a temperature meets nothing else: leave air, panel and flux out",
            ));
        }
        Ok(Face {
            air: self.air.map_or(0.0, Temperature::si),
            transfer: self.transfer.map_or(0.0, Dimensioned::si),
            humidity_ratio: self.humidity_ratio.unwrap_or(ROOM_HUMIDITY),
            panel: self.panel.map_or(0.0, Temperature::si),
            exchange: self.exchange_fraction.unwrap_or(0.0),
            flux: self.flux.map_or(0.0, Dimensioned::si),
            held: self.temperature.map(Temperature::si),
        })
    }
}

/// A face in SI units, ready for the solver.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Face {
    /// Air temperature, K.
    pub air: f64,
    /// Convection coefficient, W/(m2.K).
    pub transfer: f64,
    /// Mass of vapour over mass of dry air.
    pub humidity_ratio: f64,
    /// Panel temperature, K.
    pub panel: f64,
    /// Share of black-body exchange with the panel.
    pub exchange: f64,
    /// Flux into the face, W/m2.
    pub flux: f64,
    /// Temperature that the face is held at, K.
    pub held: Option<f64>,
}

impl Face {
    /// Heat into the face at its temperature, W/m2; a held face takes what it needs.
    #[must_use]
    pub fn heat(&self, temperature: f64) -> f64 {
        let radiation = |t: f64| t * t * t * t;
        self.transfer * (self.air - temperature)
            + self.exchange * STEFAN_BOLTZMANN * (radiation(self.panel) - radiation(temperature))
            + self.flux
    }

    /// Whether nothing crosses it.
    #[must_use]
    pub fn is_insulated(&self) -> bool {
        self.held.is_none() && [self.transfer, self.exchange, self.flux].iter().all(|part| part.abs() <= 0.0)
    }

    /// How the heat changes with the face's temperature, W/(m2.K).
    #[must_use]
    pub fn slope(&self, temperature: f64) -> f64 {
        -self.transfer - 4.0 * self.exchange * STEFAN_BOLTZMANN * temperature * temperature * temperature
    }
}
