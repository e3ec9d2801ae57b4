"""The compiler of the rule base: every fault at once, each with file, line, column and the nearest right thing."""

import json
from urllib.parse import quote

from diagnose.rulebase import faults
from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded


def check_rules(loaded: Loaded) -> list[Fault]:
    """Every fault of a rule base, sorted by place.

    Each kind of fault is looked for only where the kinds before it leave sense in the answer: form, then references,
    then meaning. An entry that could not be read would make every mention of it look unknown.
    """
    found = list(loaded.faults)
    if found:
        return sorted(found)
    for module in faults.FIRST:
        found.extend(module.check(loaded))
    if not any(fault.severity == "error" for fault in found):
        for module in faults.THEN:
            found.extend(module.check(loaded))
    return sorted(found)


def as_json(found: list[Fault]) -> str:
    """The faults as a JSON list, for editors and scripts."""
    return json.dumps(
        [
            {
                "code": fault.code,
                "severity": fault.severity,
                "file": fault.mark.file,
                "line": fault.mark.line,
                "column": fault.mark.column,
                "message": fault.message,
                "hint": fault.hint,
            }
            for fault in found
        ],
        indent=2,
        ensure_ascii=False,
    )


def as_sarif(found: list[Fault]) -> str:
    """The faults as SARIF 2.1.0, the open format that editors and code hosts read."""
    pages = {module.CODE: (module.__doc__ or "").splitlines()[0] for module in faults.ALL}
    rules = [{"id": code, "shortDescription": {"text": text}} for code, text in pages.items()]
    results = [
        {
            "ruleId": fault.code,
            "level": fault.severity,
            "message": {"text": f"{fault.message}; {fault.hint}" if fault.hint else fault.message},
            "locations": [
                {
                    "physicalLocation": {
                        "artifactLocation": {"uri": quote(fault.mark.file)},
                        "region": {"startLine": fault.mark.line, "startColumn": fault.mark.column},
                    }
                }
            ],
        }
        for fault in found
    ]
    run = {"tool": {"driver": {"name": "diagnose rules check", "rules": rules}}, "results": results}
    return json.dumps(
        {"$schema": "https://json.schemastore.org/sarif-2.1.0.json", "version": "2.1.0", "runs": [run]},
        indent=2,
        ensure_ascii=False,
    )
