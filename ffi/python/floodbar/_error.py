"""The error of all calls."""

from __future__ import annotations

from typing import Any, List, Optional


class FloodbarError(ValueError):
    """Why there is no answer.

    code     what kind of fault it is: a stable word, such as "bad_quantity"
    field    the field at fault, as a JSON pointer into the request; empty for the whole
    message  what is wrong, in words
    got      the value at fault, as text; None where there is none
    allowed  what could stand there: units, words, names
    """

    code: str
    field: str
    message: str
    got: Optional[str]
    allowed: List[str]

    def __init__(self, code: str, field: str, message: str, got: Optional[str] = None, allowed: Any = ()) -> None:
        super().__init__(f"{field}: {message}" if field else message)
        self.code = code
        self.field = field
        self.message = message
        self.got = got
        self.allowed = list(allowed)

    def __reduce__(self) -> Any:
        return type(self), (self.code, self.field, self.message, self.got, self.allowed)
