# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "shop": the shop's own numbers."""

from ._asked import asked as _asked

__all__ = ["learn"]


def learn(
    *, records, shop=None, units=None, explain=None, doubt=None,
):
    """What do my own records say?

    Also asked as: How do my weigh-ins become my release? How much do we really spoil? What is my own set-up
        time?

    Formula: normal with normal (of logarithms for times and factors): 1/s'^2 = 1/s^2 + n/sd^2, mean' = s'^2
        (mean/s^2 + n records/sd^2), s from the seen range / (2 x 1.96), sd^2 = (4 own^2 + squares about the
        means)/(4 + records - means), taken as known; half-widths 1.96 s'; spoilage beta: (a + spoiled)/(a + b
        + pieces), at most a half; a record off by more than 3 standard deviations is left out: of three or
        more by 1.4826 x the median deviation, at least own, else by sqrt(s^2 + own^2) off the built-in value;
        many spoiled only where the beta-binomial chance of so many, or more, is below 0.00135, too; a dryer
        or flash is fitted once every half-width is within 10 %.

    Parameters:
        records (needed): The records that the shop has not learned from yet, in any order: what is sent again
            with the shop that learned it counts twice. Of probes and flashes at most 12, of all at most
            1,000. A list, of each: ShopRecord {kind, ink?, mesh?, cloth?, film?, over_mesh?, strokes?, hits?,
            printed_area?, edge_length?, edge_length_scale?, surface_take?, prints?, mass_before?,
            mass_after?, runs?, flashes?, time?, solid_step?, wanted_step?, density_per_step?, setup_time?,
            screens?, pieces?, spoiled?}.
        shop: The shop as it is believed to be: the built-in values, and the dryer, flash and platen of the
            records. One of "starter-shop"; or JobShop {press, flash, platen, dryer, over_mesh_fraction,
            waste_fraction?, left_in_screen?, spoilage_fraction, spoilage_known_from?, confidence,
            blade_overlap?, free_mesh?, frame_inside?, dot_growth?, off_contact, blade_hardness,
            blade_hardness_water_based, blade_angle, setup_per_screen, teardown_per_screen,
            efficiency_fraction?, register?, stencil_resists?, exposure?, frame?, air?, from?}; or
            JobShopChanged {from, and what is other}. Default the starter shop.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        rows: The numbers that were learned. A list of ShopLearnedRow.
        outliers: The records that were left out, and why. A list of ShopOutlier.
        shop: The shop with what was learned in place. JobShopShown.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: Gelman and others, Bayesian Data Analysis, 2013, chapter 2: conjugate updates (from memory)
        common practice: seen ranges of the trade, read as 95 %
        memory: how far single records are off

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.shop.learn(
            shop='starter-shop',
            records=[{'kind': 'weigh',
                      'mesh': '55-64',
                      'ink': 'plastisol-white',
                      'printed_area': '460 cm2',
                      'prints': 12,
                      'mass_before': '1890.0 g',
                      'mass_after': '1902.6 g'},
                     {'kind': 'weigh',
                      'mesh': '55-64',
                      'ink': 'plastisol-white',
                      'printed_area': '460 cm2',
                      'prints': 24,
                      'mass_before': '3780.0 g',
                      'mass_after': '3806.4 g'},
                     {'kind': 'step_scale', 'mesh': '77-55', 'time': '95 s', 'solid_step': 6},
                     {'kind': 'setup', 'setup_time': '48 min', 'screens': 4},
                     {'kind': 'spoilage', 'pieces': 240, 'spoiled': 5},
                     {'kind': 'spoilage', 'pieces': 96, 'spoiled': 1}],
        )
    """
    return _asked("shop.learn", locals())
