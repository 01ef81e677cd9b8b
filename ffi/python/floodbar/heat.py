# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "heat": heat through layers."""

from ._asked import asked as _asked

__all__ = ["layers"]


def layers(
    *, layers, start, stages, report_at, film_water=None, tolerance=None, units=None, explain=None, doubt=None,
):
    """How hot does each layer get, and when?

    Also asked as: How warm does each layer get? How does heat go through print and shirt?

    Formula: rho c dT/dt = d/dx (k dT/dx); faces q = h (T_air - T) + exchange x sigma (T_panel^4 - T^4) +
        flux, or a held temperature; film water leaves by h_m P M / (R T) ln((P - p_air) / (P - p_surface)),
        h_m by Chilton and Colburn; bound water leaves evenly between 60 and 120 degC, with the corners of the
        release rounded.

    Parameters:
        layers (needed): The layers, top to bottom. A list, of each: HeatLayer {name, thickness, conductivity,
            density, specific_heat, bound_water?}.
        film_water: Free water in the top layer, spread evenly; it leaves through the top face. A mass per
            area in g/m2, kg/m2, oz/yd2. Range 0 to 10000 g/m2. Usual 0 to 100 g/m2.
        start (needed): Temperature of all layers at the start. An absolute temperature in degC, degF, K.
            Range -40 to 1500 degC. Usual 0 to 700 degC.
        stages (needed): The stages, one after the other. A list, of each: HeatStageRequest {duration, top,
            bottom}.
        report_at (needed): Moments to report, ascending, from the start. A list, of each: a time, such as "60
            s".
        tolerance: How far a reported temperature may be off. A temperature difference in K, delta_degF. Range
            0.00001 to 10 K. Default 0.05 K. (physics: a twentieth of a kelvin: finer than any probe)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        times: Moments that were asked for.
        top: Temperature of the top face at each moment.
        interfaces: Temperature of the joints, top to bottom, each at each moment.
        bottom: Temperature of the bottom face at each moment.
        film_water: Water left in the film at each moment.
        energy: Where the heat went, over all stages. HeatEnergyBalance.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: finite volumes, RODAS4P2: Steinebach, in Progress in Differential-Algebraic Equations II
            (2020) (from memory)
        standard: IAPWS SR1-86 (1992): saturation pressure and densities of water (from memory)
        published: Chilton, Colburn, Ind. Eng. Chem. 26 (1934) 1183: heat and mass transfer (from memory)

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.heat.layers(
            start='25 degC',
            film_water='12 g/m2',
            layers=[{'name': 'ink',
                     'thickness': '16 um',
                     'conductivity': '0.5 W/(m.K)',
                     'density': '1050 kg/m3',
                     'specific_heat': '3600 J/(kg.K)'},
                    {'name': 'jersey',
                     'thickness': '0.55 mm',
                     'conductivity': '0.055 W/(m.K)',
                     'density': '327 kg/m3',
                     'specific_heat': '1340 J/(kg.K)',
                     'bound_water': '13 g/m2'}],
            stages=[{'duration': '60 s',
                     'top': {'air': '175 degC', 'transfer': '20 W/(m2.K)', 'humidity_ratio': 0.02},
                     'bottom': {'air': '175 degC', 'transfer': '12 W/(m2.K)'}}],
            report_at=['0 s', '10 s', '20 s', '30 s', '40 s', '50 s', '60 s'],
        )
    """
    return _asked("heat.layers", locals())
