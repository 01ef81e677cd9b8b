# Written by `floodbar-pack python` from the catalogue: do not edit.
"""The step "stencil": stencil over mesh."""

from ._asked import asked as _asked

__all__ = ["thickness"]


def thickness(
    *, mesh, coated_thickness, units=None, explain=None, doubt=None,
):
    """Is the stencil thick enough?

    Also asked as: How many coats does my screen need? Is my emulsion too thin?

    Formula: over mesh = coated thickness - mesh thickness D; target 0.15 D to 0.25 D.

    Parameters:
        mesh (needed): The mesh of the screen. Such as "77-55", "195 tpi", "195/55 tpi", "62 /cm"; or
            MeshParts {count, thread?, thickness?, weave?}.
        coated_thickness (needed): Thickness of mesh and stencil together, by gauge, dry. A length in um, mm,
            cm, m, in, ft, yd, mil, cm3/m2. Range 1 to 20000 um. Usual 30 to 1500 um.
        units: The units of the answer. One of "metric", "us". Default metric.
        explain: Whether the answer says where its built-in numbers come from and what is only worth knowing.
            Default true.
        doubt: How the doubts of the fields are carried into the answer: by differences (JCGM 100), or by
            draws (JCGM 101). One of "propagate", "monte_carlo". Default propagate.

    Records stand in floodbar.records; a member with a question mark may be left out.

    Answer:
        over_mesh: Coated thickness less mesh thickness. In um.
        over_mesh_fraction: Stencil over the mesh as a share of the mesh thickness.
        target_low: Lower end of the range aimed at for the stencil over the mesh. In um.
        target_high: Upper end of the range aimed at for the stencil over the mesh. In um.
        verdict: What the stencil's thickness amounts to. One of thin, good, thick.
        notes: What to know beside the numbers. A list of Note.
        basis: Where each built-in number came from. A list of Basis.
        doubt: How far the numbers may be off, where the request has doubts. A list of Doubt.

    Sources:
        common practice: emulsion suppliers and trade journals: stencil over mesh 15-20 % of the mesh
            thickness for textiles, floor 10 %, ceiling 25 %

    Raises FloodbarError, which names the field at fault.

    Example:
        floodbar.stencil.thickness(
            mesh={'count': '90 /cm', 'thread': '48 um', 'thickness': '72 um'},
            coated_thickness='86 um',
        )
    """
    return _asked("stencil.thickness", locals())
