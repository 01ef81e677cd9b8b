# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "stock": what is built in."""

from ._asked import asked as _asked

__all__ = ["list"]


def list(
    *, kind=None, units=None, explain=None, doubt=None,
):
    """What is built in, and where do its numbers come from?

    Also asked as: Which inks do you know? Where does this number come from?

    Formula: none: the rows as they stand, each value with its source.

    Parameters:
        kind: One kind only. One of "ink", "cloth", "press", "flash", "platen", "dryer", "shop", "cause",
            "mesh", "rates". Default all kinds.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Answer:
        kinds: The kinds, in the order in which a print meets them. A list of StockShelf.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        common practice: each value names its own

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.stock.list(
            kind='platen',
        )
    """
    return _asked("stock.list", locals())
