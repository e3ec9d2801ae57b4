"""Writing a case file: as a person would have written it, and whole or not at all."""

import contextlib
import glob
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

from diagnose import words
from diagnose.case.case import SCHEMA, Answer, Case, Damage
from diagnose.rulebase.entries import Sign
from diagnose.rulebase.knowledge import Knowledge


def _answer_data(sign: Sign, answer: Answer) -> Any:
    if answer.cannot_tell:
        reads: Any = words.CANNOT_TELL
    elif sign.kind == "tick_all":
        reads = list(answer.reads) or "none"
    else:
        reads = answer.measured or answer.reads[0]
    if answer.by == "seen" and not answer.unsure:
        return reads
    data = {"reads": reads, "by": answer.by}
    return {**data, "unsure": "yes"} if answer.unsure else data


def _figure(number: float) -> str:
    """A number so that it reads back the same.

    >>> _figure(300.0), _figure(1234.56)
    ('300', '1234.56')
    """
    return repr(float(number)).removesuffix(".0")


def _filled(data: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in data.items() if value not in (None, "", {}, [])}


def _piece_data(case: Case) -> dict[str, Any]:
    return _filled(
        {
            "kind": case.piece,
            "called": case.called,
            "wood": case.wood,
            "value": _figure(case.value) if case.value is not None else None,
            "value_by": case.value_by if case.value is not None or case.value_by != "owner" else None,
            "count": str(case.count) if case.count != 1 else None,
        }
    )


def _damage_data(damage: Damage, knowledge: Knowledge) -> dict[str, Any]:
    return _filled(
        {
            "id": damage.id,
            "damage": damage.kind,
            "part": damage.part,
            "joint": damage.joint,
            "says": damage.says,
            "found_by": damage.found_by,
            "repaired": damage.repaired.isoformat() if damage.repaired else None,
            "facts": dict(damage.facts),
            "sizes": {name: f"{_figure(size)} mm" for name, size in damage.sizes.items()},
            "readings": _readings_data(damage.readings, knowledge),
        }
    )


def _readings_data(answers: Mapping[str, Answer], knowledge: Knowledge) -> dict[str, Any]:
    return {name: _answer_data(knowledge.signs[name], answer) for name, answer in answers.items()}


def case_text(case: Case, knowledge: Knowledge) -> str:
    """The YAML of a case; reading it back gives the same case."""
    head = {
        "number": case.number,
        "taken_in": case.taken_in.isoformat() if case.taken_in else None,
        "owner": case.owner,
        "owner_says": case.owner_says,
    }
    answered = {"joints": dict(case.joints), "readings": _readings_data(case.readings, knowledge)}
    data = {
        "schema": str(SCHEMA),
        **_filled(head),
        "piece": _piece_data(case),
        **_filled(answered),
        "damages": [_damage_data(damage, knowledge) for damage in case.damages],
    }
    return yaml.dump(data, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=110)


PART_IS_LEFT_S = 60.0
# Ends of lines that YAML folds away unless they stand escaped in double quotes.
SEPARATORS = frozenset("\r\x85\u2028\u2029")


class _Dumper(yaml.SafeDumper):
    """Every scalar as text, plain where that reads back the same; lists of words on one line."""


def _plain_text(dumper: yaml.SafeDumper, text: str) -> yaml.ScalarNode:
    style = "|" if "\n" in text else None
    if text in ("", "~", "null") or " #" in text or text != text.strip() or not SEPARATORS.isdisjoint(text):
        style = '"'
    return dumper.represent_scalar("tag:yaml.org,2002:str", text, style=style)


def _short_list(dumper: yaml.SafeDumper, items: list[Any]) -> yaml.SequenceNode:
    flow = all(isinstance(item, str) for item in items)
    return dumper.represent_sequence("tag:yaml.org,2002:seq", items, flow_style=flow)


_Dumper.add_representer(str, _plain_text)
_Dumper.add_representer(list, _short_list)


def write_whole(path: Path, text: str) -> None:
    """Write a file whole or not at all: beside it first, then moved into place. Raises OSError."""
    folder = path.parent if str(path.parent) else Path()
    handle, name = tempfile.mkstemp(dir=folder, prefix=f".{path.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o644
        Path(name).chmod(mode)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def sweep_parts(path: Path, now: float) -> None:
    """Take away what a power cut left of writing this file, beside it; what is younger than a minute may be somebody's at work."""
    for part in path.parent.glob(f".{glob.escape(path.name)}.*.part"):
        with contextlib.suppress(OSError):
            if now - part.stat().st_mtime > PART_IS_LEFT_S:
                part.unlink()


def write_case(path: Path, case: Case, knowledge: Knowledge) -> None:
    """Write a case whole or not at all. Raises OSError."""
    write_whole(path, case_text(case, knowledge))
