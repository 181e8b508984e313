"""What is told of a default that gave way: its field, what stands, what the rule would have."""

from __future__ import annotations

from dataclasses import replace

from massing.design.origin import Origin
from massing.findings.report import findings
from tests.findings.test_limits_of_findings import design


def test_only_what_gave_way_is_told() -> None:
    given = {
        "house.windows.0.height": Origin(
            1.5, "5'-0\"", "given by rule: the head under the cornice", instead_of="6'-0\""
        ),
        "porch.depth": Origin(2.4, "8'-0\"", "scene, line 3"),
        "house.wings.11.side": Origin(None, "left", "x by rule: no room", instead_of="right"),
    }
    told = [f for f in findings(replace(design(), origins=given)) if f.key == "gave way"]
    assert [f.severity for f in told] == ["note", "note"]
    assert told[0].text.startswith(
        "house.windows[1].height is 5'-0\" instead of 6'-0\" by rule, "
        "which would have made the head under the cornice"
    )
    assert told[1].text.startswith(
        "house.wings[12].side is left instead of right by rule, which would have made no room"
    )
