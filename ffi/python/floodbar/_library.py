"""The C library that lies beside this file: loaded once, and held against the version of these files."""

from __future__ import annotations

import platform
from typing import Any

from ._version import VERSION


def _load() -> Any:
    try:
        from ._native import ffi, lib
    except OSError as error:
        raise ImportError(f"the library of floodbar does not load on {platform.machine()} under {platform.system()}: {error}") from None
    try:
        # The first is what the declarations are for that were read when the package was built.
        declared, abi, version = lib.FLOODBAR_ABI, lib.floodbar_abi(), ffi.string(lib.floodbar_version()).decode()
    except (AttributeError, ffi.error) as error:
        raise ImportError(f"the library beside floodbar {VERSION} is another one: {error}") from None
    if (abi, version) != (declared, VERSION):
        raise ImportError(
            f"the library beside floodbar {VERSION} (interface {declared}) is {version} (interface {abi}): install floodbar anew"
        )
    return ffi, lib


ffi, lib = _load()
_TEXT = ffi.typeof("char **")


def text(call: Any, *arguments: Any) -> Any:
    """Calls a function that gives a text: its status, and the text as a copy, the library's own being freed."""
    out = ffi.new(_TEXT)
    status = call(*arguments, out)
    if out[0] == ffi.NULL:
        return status, b"null"
    try:
        return status, ffi.string(out[0])
    finally:
        lib.floodbar_free(out[0])


def status_text(status: int) -> str:
    """The name of a status: "success", or the code of an error."""
    name: str = ffi.string(lib.floodbar_status_text(status)).decode()
    return name
