# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "press": blade and frame, cycle and run time, blanks to start with."""

from ._asked import asked as _asked

__all__ = ["squeegee", "run", "overs"]


def squeegee(
    *, image_width, image_length, overlap=None, free_mesh=None, frame_inside=None, units=None, explain=None,
    doubt=None,
):
    """Which blade, which frame?

    Also asked as: How wide a squeegee do I take? Does this image fit my frame?

    Formula: blade = image width + 2 overlap; frame inside at least blade + 2 free mesh by image length + 2
        free mesh.

    Parameters:
        image_width (needed): Width of the image, across the stroke. A length in um, mm, cm, m, in, ft, yd,
            mil, cm3/m2. Range 1 to 10000 mm. Usual 20 to 1000 mm.
        image_length (needed): Length of the image along the stroke. A length in um, mm, cm, m, in, ft, yd,
            mil, cm3/m2. Range 1 to 10000 mm. Usual 20 to 1000 mm.
        overlap: How far the blade stands over the image on each side. A length in um, mm, cm, m, in, ft, yd,
            mil, cm3/m2. Range 0 to 500 mm. Usual 5 to 50 mm. Default 15 mm. (common practice: 1 to 2 cm wider
            than the image on each side)
        free_mesh: Free mesh between blade or stroke end and frame, at each end. A length in um, mm, cm, m,
            in, ft, yd, mil, cm3/m2. Range 0 to 1000 mm. Usual 30 to 250 mm. Default 60 mm. (common practice:
            suppliers: at least 5-6 cm of free mesh at each end, 15 cm for fine process work)
        frame_inside: The inside of the frame at hand. PressFrameInside {width, length}.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        blade_length: Length of the blade. In mm, US: in.
        frame_least: Least inside of the frame. PressFrameInsideShown.
        fits: Whether the frame at hand is large enough.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        common practice: suppliers and shops: overlap 1-2 cm a side, 5-6 cm of free mesh at each end

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.press.squeegee(
            image_width='320 mm',
            image_length='380 mm',
            frame_inside={'width': '500 mm', 'length': '700 mm'},
        )
    """
    return _asked("press.squeegee", locals())


def run(
    *, press, colours, pieces, dryer_rate=None, setup_per_screen=None, teardown_per_screen=None,
    efficiency_fraction=None, units=None, explain=None, doubt=None,
):
    """How long does the run take, and what holds it up?

    Also asked as: How many shirts an hour? What slows my press down?

    Formula: stroke time = (flood + print strokes) x image length / stroke speed; automatic: cycle = index +
        the longest of load, each colour's stroke time, each flash dwell, unload; rounds = 1 + the sum of
        (hits - 1); time per piece = rounds x cycle; manual: hands = load + unload + the sum over colours of
        hits x (strokes + index, and one more index to the flash), flash = the sum of hits x (dwell + index) /
        flashes, time per piece = the longer of the two, or hands + dwells on one platen; pieces per hour =
        the less of press and dryer; run time = pieces / pieces per hour / efficiency_fraction.

    Parameters:
        press (needed): The press. One of "automatic-14", "automatic-8", "manual-4x4"; or Press {kind,
            stations, heads, index, stroke_speed, load, unload, flashes?, from?}; or PressChanged {from, and
            what is other}.
        colours (needed): The colours, in print order. A list, of each: PressColour {name, image_length,
            flood_strokes, print_strokes, flash?, hits?}.
        dryer_rate: Pieces that the dryer takes in a given time. A rate in /s, /min, /h. Range 0.01 to 1000000
            /h. Usual 10 to 5000 /h. Default left out of the reckoning.
        pieces (needed): Number of pieces to print, blanks included. Range 1 to 10000000.
        setup_per_screen: Time for work on each screen before the run. A time in s, ms, us, min, h, d. Range 0
            to 1440 min. Usual 0 to 60 min. Default 10 min. (common practice: trade journals: 9-10 min a
            screen)
        teardown_per_screen: Time for work on each screen after the run. A time in s, ms, us, min, h, d. Range
            0 to 1440 min. Usual 0 to 60 min. Default 3 min. (memory: 2-4 min a screen)
        efficiency_fraction: Share of the running time in which the press really prints, rest and stops taken
            off. A number without a unit, or a share such as "40 %". Range 0.05 to 1. Usual 0.5 to 1. Default
            1: no rest and no stops.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        cycle: Time from one index of the carousel to the next; by hand, from one finished piece to the next.
            In s.
        rounds: How often a shirt goes round the carousel; by hand, once.
        by_round: Which heads are down in each round, on a carousel. A list of PressRound.
        time_per_piece: Time from one finished piece to the next on the press: rounds times cycle. In s.
        pieces_per_hour: Pieces an hour while running, the dryer taken into account.
        bottleneck: What sets the pace.
        next_bottleneck: What would set the pace were the bottleneck gone.
        next_pieces_per_hour: Pieces an hour if the first bottleneck were gone.
        run_time: Time for printing all pieces, rest and stops included where a share of them was given. In s.
        setup_time: Time for work on the screens, before and after the run. In s.
        stations: What each station is busy with. A list of PressStationTime.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: the slowest station sets the pace

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.press.run(
            press='automatic-8',
            pieces=250,
            dryer_rate='160 /h',
            colours=[{'name': 'base white',
                      'image_length': '380 mm',
                      'flood_strokes': 1,
                      'print_strokes': 1,
                      'flash': '6 s'},
                     {'name': 'pennant red', 'image_length': '380 mm', 'flood_strokes': 1, 'print_strokes': 1}],
        )
    """
    return _asked("press.run", locals())


def overs(
    *, pieces, spoilage_fraction, confidence, spoilage_known_from=None, units=None, explain=None, doubt=None,
):
    """How many blanks do I start with?

    Also asked as: How many spares do I order? How many shirts will be spoiled?

    Formula: the smallest n with P(good >= pieces) >= confidence, good binomial with n tries and chance 1 -
        spoilage; with spoilage_known_from = N the share itself is beta distributed, a = spoilage N, b = (1 -
        spoilage) N, and good beta-binomial.

    Parameters:
        pieces (needed): Good pieces ordered. Range 1 to 10000000.
        spoilage_fraction (needed): Share of the pieces started that are spoiled, whichever colour spoils
            them. A number without a unit, or a share such as "40 %". Range 0 to 0.5. Usual 0 to 0.1.
        spoilage_known_from: Pieces that the spoiled share is as well known from as by counting it on them;
            shop.learn tells them. A number without a unit, or a share such as "40 %". Range 1 to 1e09. Usual
            10 to 10000000. Default the share is exact.
        confidence (needed): The chance wanted of having enough. A number without a unit, or a share such as
            "40 %". Range 1e-6 to 0.999999999. Usual 0.5 to 0.999.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        start_with: Blanks to start with.
        expected_good: Good pieces to expect from the blanks.
        probability: The chance that at least the ordered pieces are good.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        physics: binomial distribution, summed term by term
        published: Johnson, Kemp, Kotz, Univariate Discrete Distributions, 2005: beta-binomial and its waiting
            time (from memory)

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.press.overs(
            pieces=240,
            spoilage_fraction=0.025,
            confidence=0.9,
        )
    """
    return _asked("press.overs", locals())
