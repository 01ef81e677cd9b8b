# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "job": run sheet, price of an order."""

from ._asked import asked as _asked

__all__ = ["plan", "quote"]


def plan(
    *, pieces, cloth, placements, title=None, due=None, sizes=None, trap=None, shop=None, units=None,
    explain=None, doubt=None,
):
    """The whole order: what does everyone set, mix and prove?

    Also asked as: What do I set up for this order? What goes on the run sheet?

    Formula: each part as in its own calculation: mesh.choose, mesh.geometry, stencil.thickness,
        exposure.step, press.squeegee, ink.deposit, ink.usage, ink.opacity, ink.open_time, artwork.tone,
        press.run, press.overs, flash.run, dryer.window, register.budget, mesh.moire; blanks by size at
        confidence^(1 / sizes), so that all sizes together reach the confidence; all prints proved by n good
        of n: survival at least (1 - confidence)^(1 / n).

    Parameters:
        title: What the order is called.
        pieces (needed): Good pieces ordered; of blanks that the customer supplies, so many of these. Range 1
            to 10000000.
        due: When the order is due: a date, as 2027-05-14 (ISO 8601).
        cloth (needed): The cloth of the shirts. One of "blend-jersey-160", "cotton-fleece-280",
            "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150",
            "triblend-jersey-150"; or Cloth {mass_per_area, thickness, conductivity, specific_heat,
            regain_fraction, never_above, caution_above?, dye?, scorch?, shade, lightness?, fibres?,
            dischargeable?, coated?, surface_take?, from?}; or ClothChanged {from, and what is other}.
        sizes: Pieces by size; they add up to the pieces. A list, of each: JobSizeOrder {size, pieces}.
        placements (needed): The prints on a shirt. A list, of each: JobPlacement {name, width, height,
            below_collar?, screens}.
        trap: By how much neighbouring colours overlap. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2.
            Range 0 to 100 mm. Usual 0.1 to 2 mm. Default 0.5 mm. (memory: 0.35-0.7 mm on garments)
        shop: The shop that prints it. One of "starter-shop"; or JobShop {press, flash, platen, dryer,
            over_mesh_fraction, waste_fraction?, left_in_screen?, spoilage_fraction, spoilage_known_from?,
            confidence, blade_overlap?, free_mesh?, frame_inside?, dot_growth?, off_contact, blade_hardness,
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
        title: What the order is called.
        pieces: Good pieces ordered.
        due: When the order is due.
        cloth: The cloth, by its stock name; the order's own where it describes one.
        placements: The prints on a shirt. A list of JobPlacementSheet.
        screens: The screens, in print order, placement by placement. A list of JobScreenSheet.
        heads: What each place on the press is for. A list of JobHeadSheet.
        flash: The flashes, each after its screen. A list of JobFlashSheet.
        dryer: The dryer. JobDryerSheet.
        press: The press. JobPressSheet.
        hours: The hours of the whole order. JobHoursSheet.
        register: Whether the colours will meet. JobRegisterSheet.
        blanks: Blanks to start with. JobBlanksSheet.
        ink_totals: Total of each kind of ink. A list of JobInkTotal.
        wash_test: The wash test. JobWashTest.
        sign_off: What is signed for by hand. A list of JobSignOff.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        common practice: what a shop writes on the sheet that goes with a job

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.job.plan(
            title='Harbour run tees',
            pieces=96,
            due='2027-04-02',
            cloth='cotton-jersey-180-dark',
            sizes=[{'size': 'M', 'pieces': 48}, {'size': 'L', 'pieces': 48}],
            placements=[{'name': 'front',
                         'width': '300 mm',
                         'height': '340 mm',
                         'below_collar': '75 mm',
                         'screens': [{'name': 'base white',
                                      'ink': 'plastisol-white',
                                      'mesh': '55-64',
                                      'coverage_fraction': 0.3,
                                      'flash': True},
                                     {'name': 'buoy orange',
                                      'ink': 'plastisol',
                                      'mesh': '77-55',
                                      'coverage_fraction': 0.12}]}],
            shop={'from': 'starter-shop',
                  'exposure': {'time': '95 s', 'solid_step': 6, 'tested_on': '77-55'}},
        )
    """
    return _asked("job.plan", locals())


def quote(
    *, pieces, cloth, placements, currency, rates, price, title=None, due=None, sizes=None, trap=None,
    shop=None, blanks=None, quantities=None, at_unit_price=None, valid_days=None, terms=None, units=None,
    explain=None, doubt=None,
):
    """What do I charge for this order?

    Also asked as: What does this job cost me? What is my price a shirt? Does this order pay?

    Formula: line = quantity x rate; overhead = overhead_fraction x (labour + press); cost = blanks B + all
        else D; D / (1 - margin) or D (1 + markup), B (1 + blank_markup) or B with D; + extras as price; +
        rush_fraction x D's price; - discount_fraction x all so far; up to least_order; (all - charged once) /
        pieces rounded up to round_unit_price_to; + freight; + tax_fraction x all, or out of it;
        deposit_fraction x total. Hours: screens x (setup + teardown) + pieces / rate / efficiency /
        productive_fraction. Energy: cloth m c (t - 25 degC), water m (2501 + 1.86 t_air - 4.186 x 25) kJ/kg,
        air m / (x_dryer - 0.007) x 1.019 kJ/(kg.K) (t_air - 25 degC), over the efficiency; power held on x
        printing hours.

    Parameters:
        title: What the order is called.
        pieces (needed): Good pieces ordered; of blanks that the customer supplies, so many of these. Range 1
            to 10000000.
        due: When the order is due: a date, as 2027-05-14 (ISO 8601).
        cloth (needed): The cloth of the shirts. One of "blend-jersey-160", "cotton-fleece-280",
            "cotton-jersey-180", "cotton-jersey-180-dark", "nylon-shell-90", "polyester-jersey-150",
            "triblend-jersey-150"; or Cloth {mass_per_area, thickness, conductivity, specific_heat,
            regain_fraction, never_above, caution_above?, dye?, scorch?, shade, lightness?, fibres?,
            dischargeable?, coated?, surface_take?, from?}; or ClothChanged {from, and what is other}.
        sizes: Pieces by size; they add up to the pieces. A list, of each: JobSizeOrder {size, pieces}.
        placements (needed): The prints on a shirt. A list, of each: JobPlacement {name, width, height,
            below_collar?, screens}.
        trap: By how much neighbouring colours overlap. A length in um, mm, cm, m, in, ft, yd, mil, cm3/m2.
            Range 0 to 100 mm. Usual 0.1 to 2 mm. Default 0.5 mm. (memory: 0.35-0.7 mm on garments)
        shop: The shop that prints it. One of "starter-shop"; or JobShop {press, flash, platen, dryer,
            over_mesh_fraction, waste_fraction?, left_in_screen?, spoilage_fraction, spoilage_known_from?,
            confidence, blade_overlap?, free_mesh?, frame_inside?, dot_growth?, off_contact, blade_hardness,
            blade_hardness_water_based, blade_angle, setup_per_screen, teardown_per_screen,
            efficiency_fraction?, register?, stencil_resists?, exposure?, frame?, air?, from?}; or
            JobShopChanged {from, and what is other}. Default the starter shop.
        currency (needed): The currency of all amounts (ISO 4217).
        rates (needed): What things cost the shop. One of "starter-rates"; or JobRates {labour, crew?,
            productive_fraction, press, art, film, screen, blank?, blank_by_size?, ink, ink_by_name?, energy,
            dryer_power?, flash_power?, dryer_efficiency_fraction, cloth_per_piece?, packing,
            overhead_fraction, extras?, freight?, from?}; or JobRatesChanged {from, and what is other}.
        price (needed): How the price is made. JobPrice {margin_fraction?, markup_fraction?,
            blank_markup_fraction?, rush_fraction?, discount_fraction?, least_order?, round_unit_price_to?,
            tax_fraction?, prices_include_tax?, deposit_fraction?, blanks_charged?}.
        blanks: Whose blanks are printed; of the customer's own, pieces says how many there are. One of
            "bought", "supplied". Default bought.
        quantities: Other numbers of pieces to price as well.
        at_unit_price: A unit price, to learn what it would earn. An amount of money, such as 12.50 EUR.
        valid_days: For how many days the quote stands; told again as it is. Range 1 to 3650. Usual 1 to 90.
        terms: Terms of the sale; told again as they are.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        title: What the order is called.
        pieces: Good pieces ordered, or blanks supplied.
        due: When the order is due.
        currency: The currency of all amounts.
        blanks: Blanks to start with, where the shop buys them. JobBlanksSheet.
        supplied: What becomes of the customer's own blanks. JobSupplied.
        ink_totals: Total of each kind of ink. A list of JobInkTotal.
        pieces_per_hour: Shirts an hour with all their prints, while running.
        held_up_by: What holds the press up.
        hours: The hours of the press. JobPressHours.
        drying: The heat that the dryer gives. JobDryingHeat.
        cost_lines: What it costs the shop, line by line. A list of JobCostLine.
        cost: What it costs the shop.
        price_lines: What the customer is charged, line by line. A list of JobPriceLine.
        price_before_tax: The price without tax.
        unit_price: Price of a piece, of the size that costs least.
        unit_prices: Price of a piece by size, where the order names sizes. A list of JobSizeUnitPrice.
        once: What is charged once for the whole order, beside the pieces.
        tax: The tax, in or on the price.
        total: All that is charged.
        deposit: What is paid before the work begins.
        profit: What is left of the price after cost, tax and freight.
        margin_fraction: The profit as a share of the price before tax and freight.
        profit_per_press_hour: Profit for each hour of the press.
        price_breaks: The quote for other numbers of pieces. A list of JobPriceBreak.
        at_unit_price: What the unit price asked about earns. JobEarned.
        valid_days: For how many days the quote stands.
        terms: Terms of the sale, as they were given.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        standard: ISO 4217: digits of the minor unit (list of 2026-01-01, by a general-purpose package)
        memory: ASHRAE Fundamentals: enthalpies of moist air
        common practice: a price is cost and profit, and the costs are what the job takes

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.job.quote(
            title='Harbour run tees',
            pieces=96,
            due='2027-04-02',
            cloth='cotton-jersey-180-dark',
            sizes=[{'size': 'M', 'pieces': 48}, {'size': 'L', 'pieces': 48}],
            placements=[{'name': 'front',
                         'width': '300 mm',
                         'height': '340 mm',
                         'below_collar': '75 mm',
                         'screens': [{'name': 'base white',
                                      'ink': 'plastisol-white',
                                      'mesh': '55-64',
                                      'coverage_fraction': 0.3,
                                      'flash': True},
                                     {'name': 'buoy orange',
                                      'ink': 'plastisol',
                                      'mesh': '77-55',
                                      'coverage_fraction': 0.12}]}],
            currency='EUR',
            rates={'from': 'starter-rates', 'labour': '32 EUR/h'},
            price={'margin_fraction': 0.3, 'blank_markup_fraction': 0.4, 'tax_fraction': 0.19},
            quantities=[24, 48, 144],
        )
    """
    return _asked("job.quote", locals())
