"""What the functions of the trade steps share."""

from __future__ import annotations

from typing import Any, Dict

from ._call import calculate


def asked(id: str, members: Dict[str, Any]) -> Any:
    """Asks for what was given."""
    return calculate(id, {name: member for name, member in members.items() if member is not None})
