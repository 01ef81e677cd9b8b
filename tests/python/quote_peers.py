"""Reckons quotes again, to the last minor unit: quote_peers.py LIBRARY

Random orders are priced by job.quote and by the rules as they are written: a cost line is the quantity that the answer tells times the
rate that the request gives, and the price is made of the cost lines in twelve steps. Here it is exact: decimals are read as decimals,
no binary float comes in, shares and divisions are fractions, and what is rounded is rounded half away from zero.

The quantities are reckoned again from the plan of the same order (job.plan), and the heat of the dryer by a balance of cloth, water and
air with the enthalpies of psychrometric tables. Cases come from fixed seeds. Prints what differs, then the counts.
"""

import json
import math
import random
import sys
from decimal import Decimal
from fractions import Fraction

from shared import ROOT, FloodbarError, cases, run

MINOR_UNITS = {"JPY": 0, "EUR": 2, "USD": 2, "CHF": 2, "KWD": 3}
# What an amount of EUR is about in it.
WORTH = {"JPY": 160, "EUR": 1, "USD": 1, "CHF": 1, "KWD": Fraction(1, 3)}

# To h, kg, l, m2, kWh, W, degC: exact.
HOURS = {"h": 1, "min": Fraction(1, 60), "s": Fraction(1, 3600)}
POUND, GALLON, INCH = Fraction("0.45359237"), Fraction("3.785411784"), Fraction("0.0254")
KILOGRAMS = {"kg": 1, "g": Fraction(1, 1000), "lb": POUND, "oz": POUND / 16}
LITRES = {"l": 1, "ml": Fraction(1, 1000), "gal": GALLON}
SQUARE_METRES = {"m2": 1, "cm2": Fraction(1, 10_000), "in2": INCH**2}
KILOWATT_HOURS = {"kWh": 1, "MJ": Fraction(1000, 3600), "kJ": Fraction(1, 3600)}
METRES = {"m": 1, "cm": Fraction(1, 100), "mm": Fraction(1, 1000)}
UNITS = HOURS | KILOGRAMS | LITRES | SQUARE_METRES | KILOWATT_HOURS

# Prints whose heat is soon learned: the film hangs on ink and mesh alone.
STACKS = [
    [("plastisol", "77-55")],
    [("plastisol-white", "55-64"), ("plastisol", "77-55")],
    [("plastisol", "77-55"), ("plastisol", "90-48"), ("plastisol", "90-48")],
    [("plastisol-white", "55-64"), ("plastisol", "77-55"), ("plastisol", "77-55"), ("plastisol", "90-48")],
]
WATER_BASED = [("water-based", "77-55")]
CLOTHS = {"cotton-jersey-180": (180, 1340, "0.075"), "blend-jersey-160": (160, 1320, "0.04")}
WATER_IN_INK = {"water-based": Fraction("0.78")}
KEEPS_NOT = {"water-based"}
ZONE = {"transfer_top": "20 W/(m2.K)", "transfer_bottom": "12 W/(m2.K)"}
TWO_ZONES = [
    ZONE | {"length": "0.5 m", "air": "150 degC", "humidity_ratio": 0.04},
    ZONE | {"length": "1.5 m", "air": "165 degC", "humidity_ratio": 0.06},
]  # fmt: skip
DRYERS = ["air-dryer-2m", "long-air-dryer-4m", {"from": "air-dryer-2m", "zones": TWO_ZONES}]
ROOM, FRESH, EXHAUST = 25, 0.007, Decimal("0.020")

ROUNDED = 0.500001e-6


def exact(number):
    """A number of an answer or a request, as it is written."""
    return Fraction(Decimal(number))


def in_minor(amount, digits):
    """An amount in whole minor units, half away from zero."""
    scaled = abs(amount) * 10**digits
    whole = Fraction(math.floor(scaled + Fraction(1, 2)), 10**digits)
    return -whole if amount < 0 else whole


def up(amount, step):
    """The next whole multiple of a step."""
    return math.ceil(amount / step) * step


def money(text):
    """The number of an amount or a rate, and the unit that it is per: one each where there is none."""
    number, _, unit = text.partition(" ")
    return exact(number), unit.partition("/")[2] or None


def per_unit(text):
    """A rate, and how much of the base unit one of its unit is."""
    number, unit = money(text)
    return number, Fraction(UNITS[unit]) if unit else Fraction(1)


def quantity(member, units):
    """A quantity of an answer in the base unit of those units."""
    return exact(member["value"]) * units[member["unit"]]


class Draw:
    """A random order with its rates and prices."""

    def __init__(self, seed):
        self.random = random.Random(seed)
        self.currency = self.random.choice(list(MINOR_UNITS))
        self.digits = MINOR_UNITS[self.currency]

    def chance(self, share):
        return self.random.random() < share

    def share(self, least, most, places=None):
        """A share as a JSON number, and what is written."""
        places = self.random.choice([1, 2, 3, 4, 9, 17]) if places is None else places
        return round(self.random.uniform(least, most), places)

    def money(self, least, most, *units):
        """Money of about so many EUR, by itself or for one of the units; sometimes with more digits than the currency has."""
        places = self.random.choice([self.digits, self.digits, 0, 1, 2, 3, 4])
        unit = self.random.choice(units) if units else None
        amount = Fraction(self.random.uniform(least, most)) * WORTH[self.currency]
        if unit:
            amount *= UNITS[unit] / Fraction(UNITS[units[0]])
            places += 3
        number = max(math.floor(amount * 10**places), 1) * Fraction(1, 10**places)
        return self.written(number) + (f"/{unit}" if unit else "")

    def written(self, number):
        """An amount in the order's currency, as a decimal."""
        return f"{Decimal(number.numerator) / Decimal(number.denominator):f} {self.currency}"

    def order(self):
        draw, stacks = self.random, [WATER_BASED] if self.chance(0.1) else []
        stacks = stacks or [draw.choice(STACKS) for _ in range(draw.choice([1, 1, 2, 3]))]
        placements = []
        for number, stack in enumerate(stacks):
            screens = []
            for place, (ink, mesh) in enumerate(stack):
                screen = {"name": f"screen {place}", "ink": ink, "mesh": mesh, "coverage_fraction": self.share(0.02, 0.5, 3)}
                if self.chance(0.3):
                    screen["colour"] = draw.choice(["red", "blue"])
                if self.chance(0.2):
                    screen["stored"] = True
                screens.append(screen)
            size = {"width": f"{draw.randint(60, 350)} mm", "height": f"{draw.randint(60, 400)} mm"}
            placements.append({"name": f"print {number}", **size, "screens": screens})
        pieces = draw.choice([draw.randint(1, 40), draw.randint(20, 300), draw.randint(100, 3000)])
        order = {"pieces": pieces, "cloth": draw.choice(list(CLOTHS)), "placements": placements}
        if self.chance(0.5):
            order["sizes"] = self.sizes(pieces)
        shop = {
            "from": "starter-shop", "spoilage_fraction": draw.choice([0, 0.01, 0.02, 0.025, 0.03, 0.04, 0.05, 0.1]),
            "setup_per_screen": f"{draw.randint(0, 25)} min", "teardown_per_screen": f"{draw.randint(0, 9)} min",
            "efficiency_fraction": draw.choice([0.5, 0.8, 0.85, 1]), "waste_fraction": draw.choice([0, 0.1, 0.15]),
            "left_in_screen": f"{draw.randint(0, 200)} g", "dryer": draw.choices(DRYERS, [4, 3, 1])[0],
        }  # fmt: skip
        if self.chance(0.2):
            shop["press"] = "manual-4x4"
        return order | {"shop": shop}

    def sizes(self, pieces):
        names = ["S", "M", "L", "XL", "XXL"][: min(pieces, self.random.randint(1, 5))]
        cuts = sorted(self.random.sample(range(1, pieces), len(names) - 1)) if len(names) > 1 else []
        return [{"size": name, "pieces": end - begin} for name, begin, end in zip(names, [0, *cuts], [*cuts, pieces])]

    def rates(self, order):
        draw, sizes = self.random, [size["size"] for size in order.get("sizes", [])]
        made = {
            "labour": lambda: self.money(5, 60, "h", "min"),
            "crew": lambda: {"setup": self.share(0.5, 3, 2), "run": self.share(0.5, 4, 2)},
            "productive_fraction": lambda: self.share(0.3, 1),
            "press": lambda: self.money(0, 40, "h", "min", "s"),
            "art": lambda: {"minutes": f"{draw.randint(0, 60)} min"},
            "film": lambda: self.money(1, 9) if self.chance(0.4) else self.money(5, 40, "m2", "cm2", "in2"),
            "screen": lambda: {"materials": self.money(1, 9), "minutes": f"{draw.randint(0, 50)} min"},
            "ink": lambda: self.ink(),
            "energy": lambda: self.money(0.05, 0.6, "kWh", "MJ", "kJ"),
            "dryer_efficiency_fraction": lambda: self.share(0.2, 0.8, 2),
            "packing": lambda: self.money(0.01, 0.5),
            "overhead_fraction": lambda: self.share(0, 1.5),
        }  # fmt: skip
        more = {
            "dryer_power": lambda: f"{draw.randint(1, 30)} kW",
            "flash_power": lambda: f"{draw.randint(1, 9)} kW",
            "cloth_per_piece": lambda: f"{self.share(0.4, 1.5, 2)} m2",
            "ink_by_name": lambda: [{"ink": name, "rate": self.ink()} for name in ["red", "plastisol-white"]],
            "extras": lambda: [self.extra(number) for number in range(draw.randint(1, 4))],
            "freight": lambda: self.money(3, 60),
        }  # fmt: skip
        blanks = {"blank": self.money(1, 12)}
        if sizes and self.chance(0.6):
            dear = [name for name in sizes if self.chance(0.6)]
            # Most dearer by what comes out even.
            number, step = money(blanks["blank"])[0], Fraction(1, 10**self.digits)
            each = [self.money(1, 15) if self.chance(0.2) else self.written(number + draw.randint(0, 60) * 5 * step) for _ in dear]
            blanks["blank_by_size"] = [{"size": name, "each": one} for name, one in zip(dear, each)]
        own = self.chance(0.6)
        kept = {name: of() for name, of in made.items() if own or self.chance(0.4)}
        kept |= {name: of() for name, of in more.items() if self.chance(0.5)}
        if own or self.chance(0.6):
            kept |= blanks
        return kept if own else {"from": "starter-rates", **kept}

    def ink(self):
        return self.money(8, 40, "kg", "g", "lb", "oz") if self.chance(0.7) else self.money(9, 50, "l", "ml", "gal")

    def extra(self, number):
        price = {"each": self.money(0.02, 2)} if self.chance(0.5) else {"once": self.money(1, 80)}
        return {"name": f"extra {number}", **price, "as": self.random.choice(["cost", "price"])}

    def price(self):
        draw = self.random
        price = {"margin_fraction": self.share(0, 0.7)} if self.chance(0.5) else {"markup_fraction": self.share(0, 2)}
        some = {
            "blank_markup_fraction": lambda: self.share(0, 1), "rush_fraction": lambda: self.share(0, 0.8),
            "discount_fraction": lambda: self.share(0, 0.4), "least_order": lambda: self.money(20, 900),
            "deposit_fraction": lambda: self.share(0, 1),
        }  # fmt: skip
        price |= {name: of() for name, of in some.items() if self.chance(0.4)}
        if self.chance(0.5):
            price["round_unit_price_to"] = self.written(draw.choice([1, 5, 10, 25, 50, 95, 100]) * Fraction(1, 10**self.digits))
        if self.chance(0.6):
            price["tax_fraction"] = draw.choice([0, 0.05, 0.077, 0.1, 0.12, 0.19, 0.2, self.share(0, 0.3)])
            if self.chance(0.5):
                price["prices_include_tax"] = self.chance(0.8)
        if self.chance(0.4):
            price["blanks_charged"] = draw.choice(["expected", "all"])
        return price

    def request(self):
        order = self.order()
        request = order | {"currency": self.currency, "rates": self.rates(order), "price": self.price()}
        if self.chance(0.2):
            request["blanks"] = self.random.choice(["supplied", "supplied", "bought"])
        if self.chance(0.4):
            request["at_unit_price"] = self.money(1, 40)
        if self.chance(0.3):
            request["units"] = "us"
        return order, request


class Peer:
    """Asks through one cache, decimals kept as they are written."""

    def __init__(self, floodbar):
        self.floodbar, self.cache = floodbar, floodbar.cache(100_000)

    def ask(self, id, request):
        take, library = self.floodbar._take, self.floodbar._library
        text = json.dumps([request]).encode()
        status, answers = take(library.floodbar_calculate_many, self.cache._handle, id.encode(), text)
        (answer,) = json.loads(answers, parse_float=Decimal) if status == 0 else [json.loads(answers)]
        if "error" in answer:
            raise FloodbarError(**answer["error"])
        return answer


def starter_rates():
    """The starter rates as the file of the stock has them: bare numbers, without a currency."""
    row = json.loads((ROOT / "core/src/stock/rates.json").read_text(encoding="utf-8"))["starter-rates"]
    return {name: field[0] for name, field in row.items()}


class Reckoned:
    """The quantities and the price of a request, by the rules."""

    def __init__(self, order, request, plan, answer):
        self.order, self.request, self.plan, self.answer = order, request, plan, answer
        self.digits = MINOR_UNITS[request["currency"]]
        given = dict(request["rates"])
        base = starter_rates() if given.pop("from", None) else {}
        self.rates, self.price, self.shop = base | given, request["price"], order["shop"]
        self.pieces, self.sizes = order["pieces"], order.get("sizes", [])
        self.supplied = request.get("blanks") == "supplied"
        self.spoilage = exact(str(self.shop["spoilage_fraction"]))
        self.screens = [(placement, screen) for placement in order["placements"] for screen in placement["screens"]]
        self.made = [one for one in self.screens if not one[1].get("stored")]
        self.prints = self.pieces if self.supplied else plan["blanks"]["start_with"] + plan["blanks"]["for_wash_test"]
        # Runs and inks of a plan are of all its prints.
        self.of_plan = Fraction(self.prints, plan["blanks"]["start_with"] + plan["blanks"]["for_wash_test"])

    def number(self, name):
        return exact(str(self.rates[name]))

    def amount(self, text):
        return in_minor(money(text)[0], self.digits)

    def blank_of(self, size):
        for one in self.rates.get("blank_by_size", []):
            if one["size"] == size:
                return money(one["each"])[0]
        return money(self.rates["blank"])[0]

    def hours(self):
        setup = quantity(self.plan["hours"]["setup"], HOURS) + quantity(self.plan["hours"]["clearing"], HOURS)
        run = quantity(self.plan["hours"]["run"], HOURS) * self.of_plan / self.number("productive_fraction")
        return setup, run

    def inks(self):
        """What each ink uses up in kg, and its density in kg/l."""
        waste = exact(str(self.shop["waste_fraction"]))
        left = exact(self.shop["left_in_screen"].split()[0]) / 1000
        kinds = {screen["ink"]: screen["ink"] for _, screen in self.screens}
        for total in self.plan["ink_totals"]:
            of = [s for p, s in self.screens if s.get("colour", s["name"]) == total["colour"] and kinds[s["ink"]] == total["ink"]]
            printed = quantity(total["mass_printed"], KILOGRAMS) * self.of_plan
            used = printed * (1 + waste)
            if total["ink"] in KEEPS_NOT:
                used += left * len(of)
            density = quantity(total["mass_to_mix"], KILOGRAMS) / quantity(total["volume_to_mix"], LITRES)
            yield total, used, density

    def ink_rate(self, total):
        by_name = {}
        for one in self.rates.get("ink_by_name", []):
            by_name.setdefault(one["ink"], one["rate"])
        return by_name.get(total["colour"]) or by_name.get(total["ink"]) or self.rates["ink"]

    def drying(self):
        """Heat into cloth, water and air, in kWh; and drawn."""
        mass, specific, regain = CLOTHS[self.order["cloth"]]
        area = exact(self.rates.get("cloth_per_piece", "0.85 m2").split()[0])
        each = Fraction(mass, 1000) * area
        of_ink = sum(
            quantity(sheet["mass_per_print"], KILOGRAMS) * WATER_IN_INK.get(screen["ink"], 0)
            for sheet, (_, screen) in zip(self.plan["screens"], self.screens)
        )
        zones = self.plan["dryer"]["zones"]
        length = sum(quantity(zone["length"], METRES) for zone in zones)
        mean = lambda of: float(sum(quantity(zone["length"], METRES) * exact(of(zone)) for zone in zones) / length)  # noqa: E731
        air, humidity = mean(lambda zone: zone["air"]["value"]), mean(lambda zone: zone.get("humidity_ratio", EXHAUST))
        reached = float(self.plan["dryer"]["probe_readings"][-1]["expect"]["value"])
        water = self.prints * float(exact(regain) * each + of_ink)
        passes = len(self.order["placements"])
        cloth = self.prints * passes * float(each) * specific / 1000 * (reached - ROOM)
        vapour = water * (2501 + 1.86 * air - 4.186 * ROOM)
        carried = water / (humidity - FRESH) * (1.006 + 1.86 * FRESH) * (air - ROOM)
        heat = [kilojoules / 3600 for kilojoules in (cloth, vapour, carried)]
        return [*heat, sum(heat) / float(self.number("dryer_efficiency_fraction"))]

    def quantities(self):
        """Every line of the costs but overhead: what it is, its rate, how much in the base unit of the rate, in the order in which D
        and then B come."""
        rates, (setup, run) = self.rates, self.hours()
        crew = rates.get("crew", {"setup": 1, "run": 1 if self.shop.get("press") == "manual-4x4" else 2})
        made, minutes = len(self.made), lambda work: exact(work["minutes"].split()[0]) / 60
        yield "labour: setting up and clearing", rates["labour"], setup * exact(str(crew["setup"]))
        yield "labour: printing", rates["labour"], run * exact(str(crew["run"]))
        yield "labour: art", rates["labour"], made * minutes(rates["art"])
        yield "labour: screens", rates["labour"], made * minutes(rates["screen"])
        yield "press", rates["press"], setup + run
        box = lambda placement: exact(placement["width"].split()[0]) * exact(placement["height"].split()[0]) / 10**6  # noqa: E731
        by_area = money(rates["film"])[1] is not None
        yield "film", rates["film"], sum(box(placement) for placement, _ in self.made) if by_area else made
        yield "screens: materials", rates["screen"]["materials"], made
        for total, used, density in self.inks():
            rate = self.ink_rate(total)
            by_volume = money(rate)[1] in LITRES
            yield f"ink: {total['colour']} ({total['ink']})", rate, used / density if by_volume else used
        yield "energy: heat in the dryer", rates["energy"], Fraction(self.drying()[-1])
        if "dryer_power" in rates:
            yield "energy: dryer held on", rates["energy"], exact(rates["dryer_power"].split()[0]) * run
        if "flash_power" in rates and any(screen.get("flash") for _, screen in self.screens):
            yield "energy: flash held on", rates["energy"], exact(rates["flash_power"].split()[0]) * run
        yield "packing", rates["packing"], self.pieces
        for extra in self.rates.get("extras", []):
            if extra["as"] == "cost":
                yield extra["name"], extra.get("each") or extra["once"], self.pieces if "each" in extra else 1
        if not self.supplied:
            yield from self.blanks()

    def blanks(self):
        """Blanks of one price together; those of the wash test are of the cheapest."""
        all_of_them = self.price.get("blanks_charged") == "all"
        begun = self.plan["blanks"]
        charged = lambda pieces, start: start if all_of_them else pieces / (1 - self.spoilage)  # noqa: E731
        named = [(size["size"], charged(size["pieces"], sheet["start_with"])) for size, sheet in zip(self.sizes, begun["sizes"])]
        groups = {}
        for size, count in named or [(None, charged(self.pieces, begun["start_with"]))]:
            known = groups.setdefault(self.blank_of(size), [[], 0])
            known[0].append(size)
            known[1] += count
        groups[min(groups)][1] += begun["for_wash_test"]
        for each, (names, count) in groups.items():
            what = f"blanks: {', '.join(names)}" if names != [None] else "blanks"
            yield what, f"{Decimal(each.numerator) / Decimal(each.denominator):f} {self.request['currency']}", count

    def costs(self, judge):
        """The costs by the answer's own quantities: B and D. Each line is held against its rate and its quantity."""
        lines = list(self.answer["cost_lines"])
        labour_and_press, rest, blanks = Fraction(0), Fraction(0), Fraction(0)
        wanted = [line for line in self.quantities() if line[2] > 0]
        overhead = next((line for line in lines if line["what"] == "overhead" and "rate" not in line), None)
        lines = [line for line in lines if line is not overhead]
        judge.holds([line["what"] for line in lines] == [line[0] for line in wanted], "lines", [line["what"] for line in lines], [line[0] for line in wanted])
        for line, (what, rate, count) in zip(lines, wanted):
            number, unit = per_unit(rate)
            told = exact(line["quantity"]["value"])
            judge.holds(exact(line["rate"]["value"]) == number, what, line["rate"], rate)
            judge.holds((told * 10**6).denominator == 1, what, "more than 6 decimals", line["quantity"])
            judge.within(float(told - count / unit), 0.0, ROUNDED + 1e-12 * float(count / unit), what, line["quantity"], float(count / unit))
            amount = in_minor(told * number, self.digits)
            judge.holds(self.told(line["amount"]) == amount, what, line, float(amount))
            if what.startswith("labour: ") or what == "press":
                labour_and_press += amount
            if what == "blanks" or what.startswith("blanks: "):
                blanks += amount
            else:
                rest += amount
        share = in_minor(self.number("overhead_fraction") * labour_and_press, self.digits)
        judge.holds((self.told(overhead["amount"]) if overhead else 0) == share, "overhead", overhead, float(share))
        return blanks, rest + share

    def told(self, amount):
        """An amount of the answer, which has the digits of its currency."""
        _, _, places = amount["value"].partition(".")
        assert len(places) == self.digits and amount["unit"] == self.request["currency"], amount
        return exact(amount["value"])

    def with_profit(self, cost):
        if "margin_fraction" in self.price:
            return cost / (1 - self.of_price("margin_fraction"))
        return cost * (1 + self.of_price("markup_fraction"))

    def of_price(self, name):
        return exact(str(self.price.get(name, 0)))

    def priced(self, blanks, rest):
        """Steps 4 to 12, in their order; what is told of the order."""
        price, minor = self.price, lambda amount: in_minor(amount, self.digits)
        lines = {}
        if "blank_markup_fraction" in price:
            lines["printing"] = minor(self.with_profit(rest))
            lines["blanks"] = minor(blanks * (1 + self.of_price("blank_markup_fraction")))
            work = lines["printing"]
        else:
            work = minor(self.with_profit(rest + blanks))
            lines["printing" if self.supplied else "printed pieces"] = work
        once = Fraction(0)
        for extra in self.rates.get("extras", []):
            if extra["as"] == "price":
                count = self.pieces if "each" in extra else 1
                lines[extra["name"]] = minor(count * money(extra.get("each") or extra["once"])[0])
                once += lines[extra["name"]] if "once" in extra else 0
        lines["rush"] = minor(self.of_price("rush_fraction") * work)
        lines["discount"] = -minor(self.of_price("discount_fraction") * sum(lines.values()))
        once -= minor(self.of_price("discount_fraction") * once)
        if "least_order" in price:
            lines["up to the least order"] = max(self.amount(price["least_order"]) - sum(lines.values()), Fraction(0))
        of_pieces = sum(lines.values()) - once
        unit_price, by_size, told = self.unit_prices(of_pieces)
        lines["rounding of the unit price"] = told - of_pieces
        charged = sum(lines.values())
        answer = {"once": once, "unit_price": unit_price, "by_size": by_size, **self.ended(charged)}
        if "freight" in self.rates:
            lines["freight"] = self.amount(self.rates["freight"])
        if "tax_fraction" in price and not price.get("prices_include_tax"):
            lines["tax"] = answer["tax"]
        if "deposit_fraction" in price:
            answer["deposit"] = minor(self.of_price("deposit_fraction") * answer["total"])
        return lines, charged, answer

    def unit_prices(self, of_pieces):
        """The price of a piece of the size that costs least, rounded up; the others are dearer by what their blanks cost more, with
        its profit, and rounded up themselves."""
        step = money(self.price["round_unit_price_to"])[0] if "round_unit_price_to" in self.price else Fraction(1, 10**self.digits)
        costs = {size["size"]: Fraction(0) if self.supplied else self.blank_of(size["size"]) for size in self.sizes}
        more = {size: (cost - min(costs.values())) * self.blank_factor() for size, cost in costs.items()}
        dearer = sum(more[size["size"]] * size["pieces"] for size in self.sizes)
        unit_price = up((of_pieces - dearer) / self.pieces, step)
        by_size = {size: up(unit_price + extra, step) for size, extra in more.items()}
        told = sum(by_size[size["size"]] * size["pieces"] for size in self.sizes) if self.sizes else unit_price * self.pieces
        return unit_price, by_size, told

    def blank_factor(self):
        """What a unit of a blank's cost comes to in the price of a good piece."""
        if "blank_markup_fraction" in self.price:
            profit = 1 + self.of_price("blank_markup_fraction")
        else:
            profit = self.with_profit(Fraction(1)) * (1 + self.of_price("rush_fraction"))
        return profit * (1 - self.of_price("discount_fraction")) / (1 - self.spoilage)

    def ended(self, charged):
        """Freight, tax and what is left."""
        price, freight = self.price, self.amount(self.rates["freight"]) if "freight" in self.rates else Fraction(0)
        told, share, tax = charged + freight, self.of_price("tax_fraction"), Fraction(0)
        if price.get("prices_include_tax"):
            within = share / (1 + share)
            tax = in_minor(told * within, self.digits)
            total, before, freight = told, told - tax, freight - in_minor(freight * within, self.digits)
        else:
            tax = in_minor(told * share, self.digits)
            total, before = told + tax, told
        own = before - freight
        answer = {"price_before_tax": before, "total": total, "profit": own - self.told(self.answer["cost"]), "own": own}
        if "tax_fraction" in price:
            answer["tax"] = tax
        return answer


def check_quotes(floodbar, judge):
    """Random quotes: every line of the costs, every line of the price, all that is told of the order."""
    peer = Peer(floodbar)
    for case in range(cases(300, 1000)):
        judge_quote(peer, *Draw(case).request(), judge, f"case {case}")


def judge_quote(peer, order, request, judge, what):
    """Everything that a quote tells."""
    plan, answer = peer.ask("job.plan", order), peer.ask("job.quote", request)
    reckoned = Reckoned(order, request, plan, answer)
    failed = judge.failed
    check_quantities(reckoned, judge)
    blanks, rest = reckoned.costs(judge)
    judge.holds(reckoned.told(answer["cost"]) == blanks + rest, "cost", answer["cost"], float(blanks + rest))
    lines, charged, wanted = reckoned.priced(blanks, rest)
    check_price(reckoned, judge, lines, wanted)
    if "at_unit_price" in request:
        check_earned(reckoned, judge, charged, wanted["unit_price"])
    if judge.failed > failed:
        print(f"in {what}: {json.dumps(request)}")


def check_price(reckoned, judge, lines, wanted):
    answer, told = reckoned.answer, reckoned.told
    got = [(line["what"], told(line["amount"])) for line in answer["price_lines"]]
    # A line of nothing may be left out.
    without = lambda list: [line for line in list if line[1] != 0]  # noqa: E731
    show = lambda list: [(what, float(amount)) for what, amount in list]  # noqa: E731
    judge.holds(without(got) == without(lines.items()), "price lines", show(got), "wanted", show(lines.items()))
    judge.holds(sum(amount for _, amount in got) == told(answer["total"]), "price lines and total", show(got), answer["total"])
    for name in ("price_before_tax", "unit_price", "once", "tax", "total", "deposit", "profit"):
        member, amount = answer.get(name), wanted.get(name)
        judge.holds((member and told(member)) == amount, name, member, amount is not None and float(amount))
    by_size = {one["size"]: told(one["unit_price"]) for one in answer["unit_prices"]}
    judge.holds(by_size == wanted["by_size"], "unit prices", answer["unit_prices"], {size: float(one) for size, one in wanted["by_size"].items()})
    check_margin(reckoned, judge, answer, wanted)


def check_margin(reckoned, judge, answer, wanted):
    """Profit over price and over hours, which are told in binary."""
    margin = float(wanted["profit"] / wanted["own"]) if wanted["own"] else None
    if margin is None:
        judge.holds("margin_fraction" not in answer, "margin", answer)
    else:
        judge.within(float(answer.get("margin_fraction", math.nan)), margin, 1e-12 * max(abs(margin), 1), "margin_fraction")
    hours = quantity(reckoned.answer["hours"]["total"], HOURS)
    an_hour = wanted["profit"] / hours
    half = Fraction(1, 2 * 10**reckoned.digits)
    off = float(abs(reckoned.told(answer["profit_per_press_hour"]) - an_hour))
    judge.within(off, 0.0, float(half) + 2e-9 * float(abs(an_hour)) / min(float(hours), 1.0), "profit_per_press_hour")


def check_earned(reckoned, judge, charged, unit_price):
    """Another unit price moves that of every size by as much."""
    asked = reckoned.amount(reckoned.request["at_unit_price"])
    wanted = reckoned.ended(charged + reckoned.pieces * (asked - unit_price))
    earned = reckoned.answer["at_unit_price"]
    judge.holds(reckoned.told(earned["unit_price"]) == asked, "at_unit_price", earned)
    for name in ("total", "profit"):
        judge.holds(reckoned.told(earned[name]) == wanted[name], "at_unit_price", name, earned[name], float(wanted[name]))
    check_margin(reckoned, judge, earned, wanted)


def check_quantities(reckoned, judge):
    """What the quote stands on is the plan's, and hours and heat follow from it."""
    plan, answer = reckoned.plan, reckoned.answer
    near = lambda got, wanted, *what: judge.near(float(got), float(wanted), 1e-12, *what)  # noqa: E731
    near(answer["pieces_per_hour"], plan["press"]["pieces_per_hour"], "pieces_per_hour")
    judge.holds(answer["held_up_by"] == plan["press"]["bottleneck"], "held_up_by", answer["held_up_by"])
    judge.holds(("blanks" in answer) == (not reckoned.supplied) and ("supplied" in answer) == reckoned.supplied, "whose blanks", answer)
    if not reckoned.supplied:
        judge.holds(answer["blanks"] == plan["blanks"], "blanks", answer["blanks"], plan["blanks"])
    setup, run = reckoned.hours()
    for name, wanted in {"setup": setup, "run": run, "total": setup + run}.items():
        near(quantity(answer["hours"][name], HOURS), wanted, "hours", name)
    left = exact(reckoned.shop["left_in_screen"].split()[0]) / 1000
    waste = 1 + exact(str(reckoned.shop["waste_fraction"]))
    judge.holds(len(answer["ink_totals"]) == len(plan["ink_totals"]), "inks", answer["ink_totals"])
    for got, wanted in zip(answer["ink_totals"], plan["ink_totals"]):
        judge.holds(all(got[name] == wanted[name] for name in ("ink", "colour", "screens")), "inks", got, wanted)
        printed = quantity(wanted["mass_printed"], KILOGRAMS)
        near(quantity(got["mass_printed"], KILOGRAMS), printed * reckoned.of_plan, "mass_printed")
        # What a screen holds at the end does not grow with the prints.
        kept = quantity(wanted["mass_to_mix"], KILOGRAMS) - waste * printed
        screens = round(float(kept / left)) if left else 0
        near(quantity(got["mass_to_mix"], KILOGRAMS), waste * printed * reckoned.of_plan + screens * left, "mass_to_mix")
    shown = [quantity(answer["drying"][name], KILOWATT_HOURS) for name in ("cloth", "water", "air", "drawn")]
    for got, wanted, what in zip(shown, reckoned.drying(), ("cloth", "water", "air", "drawn")):
        near(got, wanted, "drying", what)
    if reckoned.supplied:
        supplied = answer["supplied"]
        washed = min(plan["blanks"]["for_wash_test"], reckoned.pieces)
        judge.holds(supplied["pieces"] == reckoned.pieces and supplied["for_wash_test"] == washed, "supplied", supplied)
        near(supplied["expected_good"], (reckoned.pieces - washed) * (1 - reckoned.spoilage), "expected_good")
        check_least_good(reckoned, judge, supplied, reckoned.pieces - washed)


def check_least_good(reckoned, judge, supplied, printed):
    """The most good pieces that there are with nine chances in ten, by the binomial distribution in fractions."""
    if printed > 300:
        return
    bad, chance, spoiled, wanted = reckoned.spoilage, Fraction(0), 0, Fraction(9, 10)
    while True:
        chance += math.comb(printed, spoiled) * bad**spoiled * (1 - bad) ** (printed - spoiled)
        if chance >= wanted:
            break
        spoiled += 1
    judge.holds(supplied["least_good"] == printed - spoiled, "least_good", supplied, printed - spoiled)
    judge.near(float(supplied["probability"]), float(chance), 1e-9, "chance of least_good")


def an_order(pieces, spoilage=0.025, **more):
    """A one-colour order of an automatic press."""
    screen = {"name": "mark", "ink": "plastisol", "mesh": "77-55", "coverage_fraction": 0.2}
    placement = {"name": "front", "width": "200 mm", "height": "200 mm", "screens": [screen]}
    shop = {
        "from": "starter-shop", "spoilage_fraction": spoilage, "setup_per_screen": "10 min", "teardown_per_screen": "3 min",
        "efficiency_fraction": 0.85, "waste_fraction": 0.1, "left_in_screen": "100 g",
    }  # fmt: skip
    return {"pieces": pieces, "cloth": "cotton-jersey-180", "placements": [placement], "shop": shop, **more}


def check_even(floodbar, judge):
    """What comes out even, or on the half of a minor unit, by divisions that do not end in decimals."""
    peer, nothing = Peer(floodbar), {"labour": "0 EUR/h", "press": "0 EUR/h", "film": "0 EUR", "ink": "0 EUR/kg", "energy": "0 EUR/kWh"}
    nothing |= {"productive_fraction": 1, "art": {"minutes": "0 min"}, "screen": {"materials": "0 EUR", "minutes": "0 min"}}
    nothing |= {"dryer_efficiency_fraction": 0.5, "packing": "0 EUR", "overhead_fraction": 0}
    extra = lambda price, side: {"extras": [{"name": "extra", **price, "as": side}]}  # noqa: E731
    two_sizes = {"sizes": [{"size": "M", "pieces": 50}, {"size": "XXL", "pieces": 50}]}
    dear = lambda each: {"blank": "1 EUR", "blank_by_size": [{"size": "XXL", "each": each}]}  # noqa: E731
    for what, order, rates, price, more in [
        # 1234.94 x 0.12 / 1.12 = 132.315
        ("tax", an_order(1), extra({"once": "1234.94 EUR"}, "price"), {"tax_fraction": 0.12, "prices_include_tax": True}, {"blanks": "supplied"}),
        # 2.40 x 1.3 / 0.96 = 3.25, 0.49 / 0.98 = 0.50
        ("markup", an_order(100, 0.04, **two_sizes), dear("3.40 EUR"), {"blank_markup_fraction": 0.3}, {}),
        ("spoilage", an_order(100, 0.02, **two_sizes), dear("1.49 EUR"), {"blank_markup_fraction": 0}, {}),
        # 10 million over what a third leaves is 15 million; a third has more digits than money.
        ("a third", an_order(1), extra({"once": "10000000 EUR"}, "cost"), {"margin_fraction": 1 / 3}, {"blanks": "supplied"}),
        # 1000 x 0.075 = 75.00, 1000 x 0.0049 = 4.90
        ("each", an_order(1000), extra({"each": "0.075 EUR"}, "price"), {}, {"blanks": "supplied"}),
        ("little", an_order(1000), extra({"each": "0.0049 EUR"}, "price"), {}, {"blanks": "supplied"}),
    ]:  # fmt: skip
        if "margin_fraction" not in price:
            price["markup_fraction"] = 0
        request = order | {"currency": "EUR", "rates": nothing | rates, "price": price, **more}
        judge_quote(peer, order, request, judge, what)


def check_flashes(floodbar, judge):
    """A print that is flashed: the quote's hours are the plan's, for few and for many pieces."""
    peer = Peer(floodbar)
    for pieces, press in [(30, "automatic-8"), (400, "automatic-8"), (400, "manual-4x4")]:
        order = an_order(pieces)
        order["shop"]["press"] = press
        white = {"name": "base", "ink": "plastisol-white", "mesh": "55-64", "coverage_fraction": 0.3, "flash": True, "hits": 2}
        order["placements"][0]["screens"].insert(0, white)
        request = order | {"currency": "USD", "rates": {"from": "starter-rates", "flash_power": "6 kW"}, "price": {"margin_fraction": 0.35}}
        judge_quote(peer, order, request, judge, f"{pieces} pieces, flashed")


CHECKS = {
    "random quotes": check_quotes,
    "what comes out even": check_even,
    "flashed prints": check_flashes,
}


if __name__ == "__main__":
    sys.exit(run(sys.argv[1], CHECKS))
