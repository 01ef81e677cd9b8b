# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "register": register, register marks."""

from ._asked import asked as _asked

__all__ = ["budget", "marks"]


def budget(
    *, sources, colours, trap, wanted_probability=None, methods=None, film=None, units=None, explain=None,
    doubt=None,
):
    """Will the colours meet?

    Also asked as: How much trap do these colours need? How many prints will be out of register?

    Formula: u = a/1.959964 normal, a/sqrt 3 uniform, a/sqrt 6 triangular; colour k against the first:
        variance 2 sum u^2 + (k - 1) sum s^2 (s accumulating), shared causes cancel; chance for both axes =
        (chance for one)^2, P(all) = P(|x_k - x_1 + w_k| <= trap for every k): of the first print of a set-up
        by all causes, of the prints once it is adjusted by those that act on every print.

    Parameters:
        sources (needed): What moves the colours: stock names, changed stock, or causes of one's own; may be
            empty. A list, of each: RegisterCause {name, half_width, shape, shared?, accumulates?, per?,
            from?}; or RegisterCauseChanged {from, and what is other}.
        colours (needed): How many colours, each on its own screen. Range 1 to 100. Usual 1 to 16.
        trap (needed): By how much neighbouring colours overlap. A length in um, mm, cm, m, in, ft, yd, mil,
            cm3/m2. Range 0 to 100 mm. Usual 0.1 to 2 mm.
        wanted_probability: The chance wanted that all colours lie within the trap. A number without a unit,
            or a share such as "40 %". Range 0.001 to 0.9999. Usual 0.5 to 0.999. Default 0.95. (common
            practice: 19 prints of 20, the level at which doubts are usually stated)
        methods: Ways of setting the colours to each other, to be compared; the causes of the request are
            added to each. A list, of each: RegisterMethod {name, sources}.
        film: Growth of the films, as one more source. RegisterFilmChange {length, temperature_difference?,
            humidity_difference_fraction?, growth_per_kelvin_ratio?, growth_per_humidity_ratio?, shared?}.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        standard: Standard deviation of colour 2 against colour 1, along one axis. In mm, US: in.
        worst_case: The most that the half-widths together can set colour 2 off colour 1, along one axis. In
            mm, US: in.
        pair_within_probability: The chance that colour 2 lies within the trap of colour 1.
        all_within_probability: The chance that all colours lie within the trap of colour 1.
        trap_needed: The least trap in which all colours lie with the chance wanted. In mm, US: in.
        leaves_trap_at: The first colour whose own chance within the trap is below the chance wanted.
        colours: Every further colour against the first. A list of RegisterColourWithin.
        contributions: What each unshared cause adds, the largest first. A list of RegisterContribution.
        compared: The methods side by side, where there are any. A list of RegisterMethodCompared.
        setup_within_probability: The chance that a set-up lands within the trap without being adjusted: that
            all colours of its first print do, by all causes.
        adjusted_within_probability: The share of the prints with all colours within the trap, once the set-up
            is adjusted on a test print: by the causes that act anew on every print, as far as the adjusting
            itself is exact.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        standard: JCGM 100:2008 (GUM), 4.3.6-4.3.9: standard uncertainty from a half-width
        standard: JCGM 101:2008, clause 9.2: distributions of sums are propagated, not taken for normal
        physics: independent errors; colour 1 is common to all differences

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.register.budget(
            sources=['shirt-creep', {'name': 'frame twist', 'half_width': '0.1 mm', 'shape': 'triangular'}],
            methods=['film-on-platen', 'printed-tape'],
            colours=6,
            trap='0.5 mm',
        )
    """
    return _asked("register.budget", locals())


def marks(
    *, reference, colours, pivot=None, trap=None, wanted_probability=None, units=None, explain=None,
    doubt=None,
):
    """What do the marks say?

    Also asked as: How far must I move this screen? Is it the set-up, the shirts or the film? Why does one
        corner not meet?

    Formula: a mark at r is printed at p + shift + R(turn) S (r - p), S = diag(1 + stretch_x, 1 + stretch_y),
        p the pivot: unweighted least squares on the mean offsets, exact in the turn; for small turns dx =
        shift_x + stretch_x X - turn Y, dy = shift_y + stretch_y Y + turn X, (X, Y) = r - p. Standard error =
        standard deviation of the fits of the single prints / sqrt(prints); a finding counts beyond three of
        them, wider by Student's t where prints are few. Two marks, or a line of them aslant: stretch_x =
        stretch_y. move = -mean offset + (R - 1)(middle of the marks - p), which is -shift at the middle, then
        turn_by = -turn about p. Within trap: |dx| and |dy| <= trap at every mark, each axis normal about its
        means with one error common to the marks of a print and one of each mark's own (analysis of variance),
        axes independent; adjusted: with the error of the mean, which the move takes over.

    Parameters:
        reference (needed): The colour that the others are set to.
        pivot: The place about which the screens turn; shifts are those of this place. RegisterPivot {x, y}.
            Default the middle of each colour's marks.
        colours (needed): The other colours. A list, of each: RegisterColourMarks {name, marks}.
        trap: By how much neighbouring colours overlap; with it come the shares of prints within it. A length
            in um, mm, cm, m, in, ft, yd, mil, cm3/m2. Range 0 to 100 mm. Usual 0.1 to 2 mm.
        wanted_probability: The share wanted of prints with all marks within the trap. A number without a
            unit, or a share such as "40 %". Range 0.001 to 0.9999. Usual 0.5 to 0.999. Default 0.95. (common
            practice: 19 prints of 20, the level at which doubts are usually stated)
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        colours: Colour by colour, in the order of the request. A list of RegisterColourRegister.
        within_trap_now: The share of prints on which all colours lie within the trap at all marks, as set
            now; colours taken for independent.
        within_trap_adjusted: The same once all screens are moved and turned so.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        published: C. D. Ghilani, P. R. Wolf, Adjustment Computations, coordinate transformations: least
            squares of a similarity, a turn and two scales
        published: H. Scheffe, The Analysis of Variance (1959): components of variance (from memory)
        memory: three standard errors as the bound beyond which a finding counts: judgement

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.register.marks(
            reference='black',
            colours=[{'name': 'red',
                      'marks': [{'x': '0 mm',
                                 'y': '0 mm',
                                 'offsets': [{'x': '0.31 mm', 'y': '-0.12 mm'},
                                             {'x': '0.24 mm', 'y': '-0.08 mm'},
                                             {'x': '0.35 mm', 'y': '-0.17 mm'}]},
                                {'x': '300 mm',
                                 'y': '0 mm',
                                 'offsets': [{'x': '0.36 mm', 'y': '0.16 mm'}, {'x': '0.27 mm', 'y': '0.23 mm'},
                                             {'x': '0.40 mm', 'y': '0.13 mm'}]},
                                {'x': '150 mm',
                                 'y': '400 mm',
                                 'offsets': [{'x': '-0.04 mm', 'y': '0.03 mm'},
                                             {'x': '-0.13 mm', 'y': '0.08 mm'},
                                             {'x': '0.01 mm', 'y': '-0.02 mm'}]}]}],
            trap='0.3 mm',
        )
    """
    return _asked("register.marks", locals())
