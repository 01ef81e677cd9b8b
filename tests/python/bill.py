"""The bills of materials of the packages, against the schema of CycloneDX and what else is known: bill.py FOLDER... of packages.

In each folder lie the bill and the notices of the licences (THIRD-PARTY.txt). Both must name the same libraries, at the versions and with the checksums of
the lock file; what a bill refers to must be in it; and nothing in it may be of the machine that wrote it.
"""

import json
import re
import sys
from pathlib import Path

from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator

from shared import ROOT, Judge

BILL = "floodbar.cdx.json"


def locked():
    """Checksums by name and version."""
    packages = re.findall(r'name = "(.+)"\nversion = "(.+)"\nsource = .+\nchecksum = "(.+)"', (ROOT / "Cargo.lock").read_text())
    return {(name, version): checksum for name, version, checksum in packages}


def check(folder, known, judge):
    text = (folder / BILL).read_text()
    fault = JsonStrictValidator(SchemaVersion.V1_6).validate_str(text)
    judge.holds(fault is None, folder, "is no CycloneDX 1.6:", fault)
    bill = json.loads(text)
    listed = {(part["name"], part["version"]): part for part in bill["components"] if "version" in part}
    notices = re.findall(r"^(\S+) (\S+): (.+)$", (folder / "THIRD-PARTY.txt").read_text().split("-" * 80)[0], re.M)
    judge.holds({(name, version) for name, version, _ in notices} == set(listed) and listed, folder, "the notices name others than the bill")
    for name, version, licence in notices:
        part = listed.get((name, version), {})
        judge.holds(part.get("licenses") == [{"expression": licence.replace("/", " OR ")}], folder, "a licence", name, part)
        judge.holds(part.get("hashes") == [{"alg": "SHA-256", "content": known.get((name, version))}], folder, "a checksum", name, part)
        judge.holds(part.get("purl") == f"pkg:cargo/{name}@{version}", folder, "an address", name, part)
    own = bill["metadata"]["component"]
    refs = {own["bom-ref"], *(part["bom-ref"] for part in bill["components"])}
    uses = {entry["ref"]: entry["dependsOn"] for entry in bill["dependencies"]}
    judge.holds(set(uses) <= refs and {ref for used in uses.values() for ref in used} <= refs, folder, "refers to what it does not have")
    reached, coming = set(), [own["bom-ref"]]
    while coming:
        ref = coming.pop()
        if ref not in reached:
            reached.add(ref)
            coming += uses.get(ref, [])
    judge.holds(reached == refs, folder, "nothing uses", refs - reached)
    judge.holds(str(ROOT) not in text and not re.search(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T|serialNumber|file:", text), folder, "tells of the machine or the hour")


def main(*folders):
    judge, known = Judge(), locked()
    for folder in folders:
        check(Path(folder), known, judge)
    return judge.close()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
