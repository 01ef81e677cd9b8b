"""A use of the package that type checkers find nothing wrong with: installed.py asks mypy and pyright."""

from decimal import Decimal
from typing import List, Optional

import floodbar
from floodbar.records import InkUsageAnswer, MeshParts, Note


def ink_for(area: str, pieces: int) -> InkUsageAnswer:
    mesh: MeshParts = {"count": "77 /cm", "thread": {"value": 55, "unit": "um"}}
    return floodbar.ink.usage(mesh=mesh, ink="plastisol-white", printed_area=area, prints=pieces, waste_fraction=Decimal("0.1"))


def main() -> None:
    usage = ink_for("265 cm2", 240)
    mass: floodbar.Quantity = usage["mass_to_mix"]
    ounces: floodbar.Quantity = mass.to("oz")
    notes: List[Note] = usage["notes"]
    print(f"{mass} ({ounces}), {float(mass):.0f}", [note["message"] for note in notes if note["level"] == "caution"])

    # What is answered goes into a request as it stands.
    film = floodbar.ink.usage(mesh="77-55", ink="plastisol", over_mesh=usage["wet_film"], printed_area="3 in2", prints=5, units="us")
    thickness: float = film["wet_film"].value
    print(thickness, film["wet_film"].unit, film["wet_film"].plus_minus)

    # By its name a calculation answers as by its function.
    opening: floodbar.Quantity = floodbar.calculate("mesh.geometry", mesh="77-55")["opening"]
    held = floodbar.cure.equivalent(
        from_={"temperature": "160 degC", "hold": "60 s"},
        second={"temperature": "150 degC", "hold": "105 s"},
        to={"temperature": "145 degC"},
    )
    print(opening, held["notes"])

    cache = floodbar.Cache(100)
    swept = floodbar.sweep("mesh.geometry", {}, {"vary": "/mesh", "values": ["77-55", "55-64"]}, cache=cache)
    print(len(swept["x"]), cache.counts[0])
    request = {"mesh": "77-55", "ink": "plastisol", "prints": 5}
    run: floodbar.Run = floodbar.prepare("ink.usage", request, [{"at": "/printed_area", "unit": "cm2"}], ["/mass_to_mix"]).run([[265.0]])
    print(run["/mass_to_mix"], run.status)

    got: Optional[str]
    shop: List[floodbar.Money] = []
    total: Decimal = sum((amount.value for amount in shop), Decimal())
    try:
        floodbar.mesh.geometry(mesh="no mesh")
    except floodbar.FloodbarError as error:
        got = error.got
        print(error.code, error.field, got, error.allowed, total)


if __name__ == "__main__":
    main()
