"""A finding as a file: its chart as PNG or SVG, its figures as CSV."""

from __future__ import annotations

from pathlib import Path

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.findings import Finding
from greenhouse_desk.services import files, findings
from greenhouse_desk.ui.style import Palette

KINDS = (("Picture", ".png"), ("Drawing to scale", ".svg"), ("Figures as a table", ".csv"))
"""What can be saved: its words and ending."""


def write(finding: Finding, look: Palette, path: Path) -> None:
    """Write the finding as the ending of `path` says. Raises Refused for another ending, a chart there is none of, or
    a file that cannot be written."""
    ending = path.suffix.lower()
    if ending == ".csv":
        findings.write_table(finding, path)
        return
    if ending not in (".png", ".svg"):
        raise Refused(f"{path.name} cannot be written", "Its ending tells no kind of file.",
                      "End it .png, .svg or .csv.")
    if finding.chart is None:
        raise Refused("There is no chart", finding.summary, "Save the figures as a table.")
    from greenhouse_desk.ui.findings import charts
    try:
        files.put(path, charts.save(finding, look, path))
    except OSError as error:
        raise files.unwritten(path, error, f"{path.name} cannot be written") from error
