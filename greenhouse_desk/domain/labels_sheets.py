"""Labels on their pages: copies, the first free label of a used sheet, and where each label comes to lie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.labels import Layout, Told
from greenhouse_desk.domain.labels_set import Label, label
from greenhouse_desk.domain.paper import Group, Measure, Page

MOST_COPIES = 99


@dataclass(frozen=True, slots=True)
class Printed:
    """Pages of labels, the labels on them in order, and those that were refused."""

    pages: tuple[Page, ...]
    made: tuple[Label, ...]
    refused: tuple[Label, ...]

    @property
    def notes(self) -> tuple[str, ...]:
        """What was shortened or left out, one line a plant."""
        return tuple(f"{one.number}: {', '.join(one.notes)}" for one in self.made if one.notes)

    @property
    def refusals(self) -> tuple[str, ...]:
        """The labels that could not be made, and why."""
        return tuple(f"{one.number}: {one.refused}" for one in self.refused)


def place_of(layout: Layout, position: int) -> tuple[float, float]:
    """The upper left corner in mm of label `position` (from 0, row by row) on its page."""
    if layout.grid is None:
        return 0.0, 0.0
    row, column = divmod(position, layout.grid.across)
    return layout.grid.left + column * layout.grid.step_x, layout.grid.top + row * layout.grid.step_y


def page_size(layout: Layout) -> tuple[float, float]:
    """Width and height in mm of a layout's page: its sheet, or one label of a roll."""
    return (layout.width, layout.height) if layout.grid is None else (layout.grid.width, layout.grid.height)


def printed(layout: Layout, tolds: Sequence[Told], measure: Measure, start: int = 1, copies: int = 1) -> Printed:
    """Labels of these plants in this order, each `copies` times, from label `start` (1 is the first) of a sheet on.

    Raises Refused where the sheet has no such label or the copies are none or too many.
    """
    return arranged(layout, [label(layout, told, measure) for told in tolds], start, copies)


def arranged(layout: Layout, labels: Sequence[Label], start: int = 1, copies: int = 1) -> Printed:
    """Labels that were set already, on their pages as `printed` puts them. Raises Refused as it does."""
    if not 1 <= start <= layout.per_page:
        raise Refused(f"There is no label {start} on a sheet", f"{layout.title}: {layout.per_page} on a page.",
                      f"Start at 1 to {layout.per_page}.")
    if not 1 <= copies <= MOST_COPIES:
        raise Refused(f"{copies} copies cannot be printed", "", f"Ask for 1 to {MOST_COPIES}.")
    made = tuple(one for one in labels if not one.refused)
    return Printed(_pages(layout, [one for one in made for _ in range(copies)], start - 1), made,
                   tuple(one for one in labels if one.refused))


def begun_by(layout: Layout, pages: int, start: int = 1, copies: int = 1) -> int:
    """Of how many plants at least one label stands on the first `pages` pages, where there are plants enough."""
    return -(-max(0, pages * layout.per_page - start + 1) // copies)


def _pages(layout: Layout, labels: Sequence[Label], first: int) -> tuple[Page, ...]:
    sheets: dict[int, list[Group]] = {}
    for number, one in enumerate(labels, first):
        sheet, position = divmod(number, layout.per_page)
        sheets.setdefault(sheet, []).append(Group(*place_of(layout, position), one.items))
    return tuple(Page(*page_size(layout), tuple(groups)) for groups in sheets.values())
