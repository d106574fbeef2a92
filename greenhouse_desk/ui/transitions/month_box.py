"""The month page: the month is chosen, seen as it will be printed, and saved as a PDF or printed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta

from PySide6.QtWidgets import QComboBox, QWidget

from greenhouse_desk.domain.paper import Page
from greenhouse_desk.services.month_page import MONTHS
from greenhouse_desk.ui.page_box import PageBox, Setting, Sheet
from greenhouse_desk.ui.wheel import calm

MONTHS_SHOWN = 6


class MonthBox(PageBox):
    """`made(month)` gives the pages of a month."""

    def __init__(self, today: date, made: Callable[[date], tuple[Page, ...]], parent: QWidget) -> None:
        self.months = calm(QComboBox())
        self.months.setAccessibleName("Month")
        month = today.replace(day=1)
        for _ in range(MONTHS_SHOWN):
            self.months.addItem(f"{MONTHS[month.month - 1]} {month.year}", month)
            month = (month + timedelta(days=32)).replace(day=1)

        def read() -> Setting:
            pages = made(self.month)
            return lambda _size: pages

        super().__init__(Sheet("The month on the wall", "All care owed, a box a day, then the courses with their "
                               "looks, on A4 across.", "", read, sizes=False), parent, (self.months,))
        self.months.currentIndexChanged.connect(lambda _at: self.refresh())

    def refresh(self) -> None:
        """Show the month chosen; its file is named for it."""
        self.sheet = replace(self.sheet, title=f"Month of care: {self.months.currentText()}",
                             file=f"care-{self.month:%Y-%m}.pdf")
        super().refresh()

    @property
    def month(self) -> date:
        """The first day of the month chosen."""
        chosen = self.months.currentData()
        assert isinstance(chosen, date)
        return chosen
