"""An order and what its shop has, made into one request of job.quote, and the hash by which a change of it is noticed."""

import hashlib
import json
from collections import defaultdict


class Refused(Exception):
    """Why an order makes no request: a code as the library has them, the field at fault, a message."""

    def __init__(self, code, field, message):
        super().__init__(message)
        self.code, self.field, self.message = code, field, message


class Shops:
    """What all shops have, read once for a run: settings, rates and prices, presses, blanks and inks."""

    def __init__(self, shops, presses, garments, inks):
        """From the rows of the four tables, as mappings."""
        self.shops = {
            row["shop"]: {**row, **{name: json.loads(row[name]) for name in ("settings", "rates", "price")}} for row in shops
        }
        self.presses = {(row["shop"], row["name"]): (json.loads(row["press"]), row["rate"]) for row in presses}
        self.garments = {(row["shop"], row["name"]): (row["blank"], json.loads(row["by_size"])) for row in garments}
        self.inks = defaultdict(list)
        for row in inks:
            self.inks[row["shop"]].append({"ink": row["colour"], "rate": row["rate"]})


def _once(pairs):
    members = dict(pairs)
    if len(members) < len(pairs):
        names = [name for name, _ in pairs]
        raise ValueError(f"the key `{next(name for name in names if names.count(name) > 1)}` stands twice")
    return members


def _no_number(text):
    raise ValueError(f"{text} is no number of JSON")


def read(text):
    """The order of a JSON text; raises Refused."""
    try:
        order = json.loads((text or b"").decode(), object_pairs_hook=_once, parse_constant=_no_number)
    except ValueError as error:
        raise Refused("bad_json", "", f"not JSON: {error}") from None
    except RecursionError:
        raise Refused("too_long", "", "arrays and objects are nested too deep") from None
    if not isinstance(order, dict):
        raise Refused("wrong_type", "", "an order is a JSON object")
    return order


def _texts(value):
    if isinstance(value, str):
        yield value.strip()
    elif isinstance(value, (dict, list)):
        for entry in value.values() if isinstance(value, dict) else value:
            yield from _texts(entry)


def assemble(row, shops):
    """The request of an order, a mapping with the columns of the table; raises Refused."""
    order = read(row["request"])
    shop = shops.shops.get(row["shop"])
    if shop is None:
        raise Refused("missing_field", "/shop", f"there is no shop {row['shop']!r}")
    press, press_rate = shops.presses.get((row["shop"], row["press"]), (row["press"], None))
    blank, by_size = shops.garments.get((row["shop"], row["garment"]), (None, None))
    # Rates of inks that the order does not name are left out: a change of theirs is none of this order's.
    named = set(_texts(order.get("placements")))
    inks = [ink for ink in shops.inks[row["shop"]] if ink["ink"].split(" (")[0] in named or ink["ink"] in named]
    price = dict(shop["price"])
    for member in (() if row["rush"] else ("rush_fraction",)) + (("tax_fraction", "prices_include_tax") if row["tax_exempt"] else ()):
        price.pop(member, None)
    return {
        **order,
        "shop": {**shop["settings"], "press": press},
        "rates": {**shop["rates"], "press": press_rate, "blank": blank, "blank_by_size": by_size, "ink_by_name": inks},
        "price": price,
        "currency": shop["currency"],
        "valid_days": shop["valid_days"],
        "explain": False,
    }


def content_hash(row, request, library):
    """The hash of all that an order's result follows from. `library` stands for the formulas and the built-in stock; an order that makes no
    request (None) has the hash of its text."""
    content = row["request"] or b""
    try:
        if request is not None:
            content = json.dumps([row["press"], request], sort_keys=True, separators=(",", ":")).encode()
    except RecursionError:
        # What is nested so deep is refused, whatever its shop has.
        pass
    return hashlib.sha256(library.encode() + b"\0" + content).hexdigest()
