"""The columns of what is read and written. Money is in whole minor units, never a binary float."""

import pyarrow

TEXT, WHOLE, NUMBER, YES = pyarrow.string(), pyarrow.int64(), pyarrow.float64(), pyarrow.bool_()


def _columns(**columns):
    return [pyarrow.field(name, kind) for name, kind in columns.items()]


def _list_of(**columns):
    return pyarrow.list_(pyarrow.struct(_columns(**columns)))


# What comes in: an order as the customer gave it, even if it is no JSON at all, and what its shop has; JSON where job.quote takes records.
ORDERS = pyarrow.schema(_columns(id=WHOLE, garment=TEXT, press=TEXT, rush=YES, tax_exempt=YES, request=TEXT, shop=TEXT, cloth=TEXT))
SHOPS = {
    "shops": pyarrow.schema(_columns(shop=TEXT, currency=TEXT, settings=TEXT, rates=TEXT, price=TEXT, valid_days=WHOLE)),
    "presses": pyarrow.schema(_columns(shop=TEXT, name=TEXT, press=TEXT, rate=TEXT)),
    "garments": pyarrow.schema(_columns(shop=TEXT, name=TEXT, blank=TEXT, by_size=TEXT)),
    "inks": pyarrow.schema(_columns(shop=TEXT, colour=TEXT, rate=TEXT)),
}

KEY = _columns(id=WHOLE, request_sha256=TEXT)
QUOTED = _columns(
    pieces=WHOLE, press=TEXT, setup_seconds=WHOLE, run_seconds=WHOLE, currency=TEXT, unit_price=WHOLE, cost=WHOLE, before_tax=WHOLE,
    tax=WHOLE, total=WHOLE, profit=WHOLE, profit_per_press_hour=WHOLE, stop=TEXT,
    hours=NUMBER, hours_unit=TEXT, pieces_per_hour=NUMBER,
    lines=_list_of(side=TEXT, what=TEXT, amount=WHOLE),
    ink_demand=_list_of(colour=TEXT, ink=TEXT, ready_milligrams=WHOLE, used_milligrams=WHOLE),
    ink_usage=_list_of(placement=TEXT, screen=TEXT, wet_film_um=NUMBER, mass_per_print_g=NUMBER, mass_to_mix_g=NUMBER),
)  # fmt: skip
REFUSED = _columns(code=TEXT, field=TEXT, message=TEXT)
# What it cost to price so many rows of a shop and cloth, in seconds of a core, and by whom.
WORK = _columns(rows=WHOLE, refused=WHOLE, seconds=NUMBER, remembered=WHOLE, worked_out=WHOLE, worker=TEXT, peak_kilobytes=WHOLE)
# All of it comes out of one pass, each row of one kind: what kind, and where it belongs, are the folders that it is written to.
KINDS = {"quoted": KEY + QUOTED, "refused": KEY + REFUSED, "work": WORK}
PLACE = _columns(kind=TEXT, shop=TEXT, cloth=TEXT)
WRITTEN = pyarrow.schema(PLACE + KEY + QUOTED + REFUSED + WORK)
HASHED = pyarrow.schema(_columns(shop=TEXT, cloth=TEXT, id=WHOLE, request_sha256=TEXT))
