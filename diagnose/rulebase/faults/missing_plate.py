"""A reading names a plate that nobody has drawn, or a plate is drawn that no reading names.

A plate that names no family of drawings is a fault of form, found when it is read.
"""

from collections.abc import Iterator

from diagnose.rulebase.fault import Fault, nearest
from diagnose.rulebase.load import Loaded

CODE = "missing-plate"


def check(loaded: Loaded) -> Iterator[Fault]:
    """Plates that are named and not there, and plates that are there and not named."""
    plates = loaded.found["plates"]
    named = set()
    for sign in loaded.found["signs"].values():
        for name, reading in sign.readings.items():
            if reading.plate is None:
                continue
            named.add(reading.plate)
            if reading.plate not in plates:
                mark = loaded.mark("signs", sign.id, "readings", name, "plate")
                yield Fault(mark, CODE, f"{reading.plate} is not a plate", nearest(reading.plate, plates))
    for plate_id in plates:
        if plate_id not in named:
            yield Fault(loaded.mark("plates", plate_id, "id"), CODE, f"unused plate: no reading names {plate_id}")
