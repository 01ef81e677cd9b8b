"""What job.quote costs beside a plain script with pint and decimal: quote_speed.py LIBRARY

By hand, not part of tests/run. Needs pint, which requirements.txt lists.

The script knows the rules of the costs and of the price and nothing of screens, presses and heat: it is given the quantities of each
order (hours, ink, blanks, energy), which it would otherwise have to work out. pint holds the units, with decimals for numbers; money is
a unit of its own. job.quote is asked from the order, in JSON, plan and all, through a cache that knows the heat of these orders. The
totals are the same to the cent, or there is no ratio.

Then the same orders at a hundred numbers of pieces: job.quote with `quantities`, the script a hundred times.

Times are the shortest of several, taken in turn, in one run.
"""

import random
import sys
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

import pint

from shared import Floodbar, shortest

ORDERS, TURNS, BREAKS = 40, 5, 100
CENT, MICRO = Decimal("0.01"), Decimal("0.000001")

units = pint.UnitRegistry(non_int_type=Decimal)
units.define("EUR = [money]")


def an_order(draw):
    inks = [("plastisol-white", "55-64"), ("plastisol", "77-55"), ("plastisol", "90-48")]
    screens = [
        {"name": f"screen {n}", "ink": ink, "mesh": mesh, "coverage_fraction": round(draw.uniform(0.05, 0.4), 3)}
        for n, (ink, mesh) in enumerate(inks[: draw.randint(1, 3)])
    ]  # fmt: skip
    placement = {"name": "front", "width": f"{draw.randint(100, 350)} mm", "height": f"{draw.randint(100, 400)} mm", "screens": screens}
    rates = {
        "labour": f"{draw.randint(20, 50)}.50 EUR/h", "crew": {"setup": 1, "run": 2}, "productive_fraction": 0.6, "press": "15 EUR/h",
        "art": {"minutes": "25 min"}, "film": "25 EUR/m2", "screen": {"materials": "4.20 EUR", "minutes": "25 min"},
        "blank": f"{draw.randint(2, 9)}.35 EUR", "ink": f"{draw.randint(9, 30)} EUR/kg", "energy": "0.30 EUR/kWh", "dryer_power": "12 kW",
        "dryer_efficiency_fraction": 0.4, "packing": "0.10 EUR", "overhead_fraction": 0.4, "freight": "12.90 EUR",
    }  # fmt: skip
    price = {"margin_fraction": 0.3, "blank_markup_fraction": 0.4, "rush_fraction": 0.1, "discount_fraction": 0.05, "tax_fraction": 0.19}
    return {
        "pieces": draw.randint(20, 500), "cloth": "cotton-jersey-180", "placements": [placement], "shop": "starter-shop",
        "currency": "EUR", "rates": rates, "price": price, "explain": False,
    }  # fmt: skip


def given(request, answer):
    """The quantities of an order in the units of the plan, and its rates and shares, read beforehand."""
    lines = []
    for line in answer["cost_lines"]:
        if line["what"] == "overhead":
            continue
        number, unit = Decimal(str(line["quantity"]["value"])), line["quantity"]["unit"]
        unit = {"1": "", "m2": "m**2"}.get(unit, unit)
        # In another unit than the rate's, as a plan would have it.
        amount = units.Quantity(number, unit).to({"h": "min", "kg": "g", "m**2": "cm**2"}.get(unit, unit))
        rate = units.Quantity(Decimal(line["rate"]["value"]), f"EUR/{unit}" if unit else "EUR")
        lines.append((line["what"], amount, rate))
    shares = {name: Decimal(str(share)) for name, share in request["price"].items()}
    shares["overhead_fraction"] = Decimal(str(request["rates"]["overhead_fraction"]))
    freight = units.Quantity(Decimal(request["rates"]["freight"].split()[0]), "EUR")
    return request["pieces"], lines, shares, freight


def money(amount):
    return units.Quantity(amount.to("EUR").magnitude.quantize(CENT, ROUND_HALF_UP), "EUR")


def script(pieces, lines, shares, freight):
    """The total and the unit price by the rules."""
    nothing = units.Quantity(Decimal(0), "EUR")
    people, rest, blanks, written = nothing, nothing, nothing, []
    for what, amount, rate in lines:
        per = units.EUR / rate.units
        count = units.Quantity(amount.to(per).magnitude.quantize(MICRO, ROUND_HALF_UP), per)
        cost = money(count * rate)
        written.append((what, count, rate, cost))
        if what.startswith("labour") or what == "press":
            people = people + cost
        elif what.startswith("blanks"):
            blanks = blanks + cost
        else:
            rest = rest + cost
    rest = rest + people + money(people * shares["overhead_fraction"])
    printing = money(rest / (1 - shares["margin_fraction"]))
    price = printing + money(blanks * (1 + shares["blank_markup_fraction"])) + money(printing * shares["rush_fraction"])
    price = price - money(price * shares["discount_fraction"])
    each = units.Quantity((price / pieces).magnitude.quantize(CENT, ROUND_CEILING), "EUR")
    before_tax = each * pieces + freight
    total = before_tax + money(before_tax * shares["tax_fraction"])
    profit = before_tax - freight - rest - blanks
    return str(total.magnitude), str(each.magnitude), str(profit.magnitude), written


def main(library):
    floodbar, draw = Floodbar(library), random.Random(20270402)
    cache, requests = floodbar.cache(10_000), [an_order(draw) for _ in range(ORDERS)]
    ask = lambda: floodbar.calculate_many("job.quote", requests, cache)  # noqa: E731
    answers = ask()
    known = [given(request, answer) for request, answer in zip(requests, answers)]
    by_script = lambda: [script(*one) for one in known]  # noqa: E731
    for answer, (total, each, profit, _) in zip(answers, by_script()):
        told = [answer[name]["value"] for name in ("total", "unit_price", "profit")]
        assert told == [total, each, profit], (told, total, each, profit)
    ours, theirs = shortest([ask, by_script], TURNS)
    print(f"{ORDERS} orders: job.quote from the order, plan and all but heat, {ours / ORDERS * 1e6:.0f} us an order; pint and decimal from given "
          f"quantities {theirs / ORDERS * 1e6:.0f} us, {theirs / ours:.1f} times as long")  # fmt: skip
    many = [request | {"quantities": list(range(10, 10 + 5 * BREAKS, 5))} for request in requests]
    ask_many = lambda: floodbar.calculate_many("job.quote", many, cache)  # noqa: E731
    ours_many, theirs = shortest([ask_many, by_script], TURNS)
    each = (ours_many - ours) / ORDERS / BREAKS
    print(f"with {BREAKS} numbers of pieces each: {ours_many / ORDERS / (BREAKS + 1) * 1e6:.1f} us a quote, a further number {each * 1e6:.1f} us; "
          f"pint and decimal take {theirs / ORDERS / (ours_many / ORDERS / (BREAKS + 1)):.0f} times as long a quote")  # fmt: skip


if __name__ == "__main__":
    main(*sys.argv[1:2])
