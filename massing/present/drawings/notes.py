"""What the findings say of a design, as notes on a sheet."""

from __future__ import annotations

from massing.design.design import Design
from massing.findings.report import findings
from massing.present.remarks import remark_text

_RANK = {"caution": 0, "check": 1, "note": 2}


def finding_notes(design: Design) -> list[str]:
    """The findings as notes on a sheet, the cautions first, each with its source."""
    found = sorted(findings(design), key=lambda f: _RANK.get(f.severity, 3))
    notes = []
    for each in found:
        source = each.source.replace(" (read)", "").replace(" (from memory)", ", from memory")
        text = remark_text(each, design.units)
        notes.append(f"{text} ({source})" if source else text)
    return notes
