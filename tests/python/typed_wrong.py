"""Slips that type checkers find: each line that ends on "wrong" and no other, as installed.py looks up."""

import floodbar

floodbar.mesh.geometri(mesh="77-55")  # wrong
floodbar.mesh.geometry(mehs="77-55")  # wrong
floodbar.mesh.geometry()  # wrong
floodbar.mesh.geometry(mesh=77)  # wrong
floodbar.mesh.geometry(mesh={"counts": "77 /cm"})  # wrong
floodbar.mesh.geometry(mesh="77-55", units="imperial")  # wrong
floodbar.mesh.geometry(mesh="77-55")["openin"]  # wrong
floodbar.mesh.geometry(mesh="77-55")["opening"].into("in")  # wrong
floodbar.ink.usage(mesh="77-55", ink="plastisoll", printed_area="265 cm2", prints=240)  # wrong
floodbar.ink.usage(mesh="77-55", ink="plastisol", printed_area=265, prints=240)  # wrong
floodbar.ink.usage(mesh="77-55", ink="plastisol", printed_area="265 cm2", prints="240")  # wrong
floodbar.ink.usage(mesh="77-55", ink="plastisol", printed_area="265 cm2", prints=240)
floodbar.solve("ink.usage", {}, {"vary": "/prints", "from": 1, "to": 9, "want": "/mass_to_mix"})  # wrong
floodbar.stok.list()  # wrong
