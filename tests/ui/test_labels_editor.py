"""Layouts edited beside the live picture: parts and sizes, faults in words, kept, copied and removed as one's own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from greenhouse_desk.domain.labels import Align, Layout, What
from greenhouse_desk.services import labels_shelf
from greenhouse_desk.services.labels_shelf import FIRST, layouts
from greenhouse_desk.ui.labels.editor import SizesEditor
from greenhouse_desk.ui.labels.screen import LabelsScreen
from tests.ui.house import form, words_of
from tests.ui.test_spoken_names import unnamed

SHIPPED = layouts(None)


@pytest.fixture
def editor(qapp: object) -> SizesEditor:
    """The editor by itself, the first layout in hand."""
    made = SizesEditor()
    made.begin(SHIPPED.named(FIRST), [layout.title for layout in SHIPPED.all])
    return made


def parts(layout: Layout) -> list[What]:
    return [box.what for box in layout.boxes]


def choose(editor: SizesEditor, words: str) -> None:
    """Put the part with these words on."""
    row = editor.parts.add.findText(words)
    assert row > 0
    editor.parts.add.activated.emit(row)


def take(editor: SizesEditor, what: str) -> None:
    """Take a part in hand."""
    editor.box.setCurrentText(what)


def test_on_the_screen_a_layout_is_edited_kept_copied_and_removed(labels: LabelsScreen) -> None:
    before = labels.layouts.layout_chosen
    labels.layouts.edit.click()
    editor = labels.editor
    assert "while it is edited" in labels.preview.accessibleName()
    assert list(unnamed(labels)) == []
    editor.sizes["label", "width"].setValue(50)
    assert "code: it reaches over the edge" in editor.faults.text()
    assert not editor.keep.isEnabled()
    editor.close_button.click()
    assert labels.layouts.layout_chosen == before, "closing keeps nothing"
    labels.layouts.edit.click()
    editor.sizes["sheet", "top"].setValue(12.5)
    take(editor, "name")
    editor.sizes["box", "letter_mm"].setValue(2.6)
    editor.title.setText("Mine")
    editor.keep.click()
    own = labels.layouts.layout_chosen
    assert (own.title, own.own, own.grid.top if own.grid else 0, own.boxes[2].letter_mm) == ("Mine", True, 12.5, 2.6)
    assert labels_shelf.layouts(labels._desk.store.folder).named("mine") == own
    labels.layouts.edit.click()
    assert not editor.another.isEnabled(), "a copy needs a title of its own"
    editor.title.setText("Mine too")
    editor.title.textEdited.emit("Mine too")
    editor.another.click()
    assert [one.id for one in labels_shelf.layouts(labels._desk.store.folder).all if one.own] == ["mine-too", "mine"]
    labels.layouts.edit.click()
    editor.remove.click()
    assert "Remove “Mine too”?" in words_of(form())
    form().accept_button.click()
    assert [one.id for one in labels_shelf.layouts(labels._desk.store.folder).all if one.own] == ["mine"]
    assert labels.layouts.layout_chosen.id == FIRST


def test_what_does_not_fit_is_said_while_it_is_edited(labels: LabelsScreen) -> None:
    labels.layouts.edit.click()
    take(labels.editor, "name")
    labels.editor.sizes["box", "width"].setValue(6)
    assert "the name does not fit, even in the smallest letters" in words_of(labels)


def test_a_part_is_put_on_where_there_is_room_and_taken_off(editor: SizesEditor) -> None:
    take(editor, "source")
    editor.parts.off.click()
    assert What.SOURCE not in parts(editor.layout_tried())
    choose(editor, "own lines")
    tried = editor.layout_tried()
    assert parts(tried)[-1] is What.LINES
    assert editor.box.currentText() == "own lines"
    assert editor.keep.isEnabled(), editor.faults.text()


def test_without_any_part_the_editor_says_what_is_missing(editor: SizesEditor) -> None:
    while editor.box.count():
        editor.parts.off.click()
    assert not editor.parts.off.isEnabled()
    assert "a box for the number was expected" in editor.faults.text()
    choose(editor, "number")
    assert editor.keep.isEnabled()
    assert "a scanner cannot find the plant" in editor.advice.text()


def test_texts_trade_places_and_stand_as_asked(editor: SizesEditor) -> None:
    take(editor, "date")
    assert editor.parts.earlier.isEnabled()
    editor.parts.earlier.click()
    date = editor.layout_tried().boxes[3]
    assert (date.what, date.y) == (What.DATE, 13)
    editor.parts.align.setCurrentIndex(list(Align).index(Align.RIGHT))
    editor.parts.bold.setChecked(True)
    editor.parts.words.setText("on")
    editor.parts.words.textEdited.emit("on")
    tried = editor.layout_tried()
    assert (tried.boxes[3].align, tried.boxes[3].bold, tried.boxes[3].words) == (Align.RIGHT, True, "on")
    take(editor, "code")
    assert not editor.parts.align.isEnabled()
    assert not editor.parts.earlier.isEnabled()
    assert editor.layout_tried().boxes[3] == tried.boxes[3], "another part in hand changes neither"


def test_the_code_comes_to_the_other_side(editor: SizesEditor) -> None:
    assert editor.side.currentText() == "Code at the right"
    for _ in range(2):  # chosen once more it stays there
        editor.side.setCurrentIndex(1)
        editor.side.activated.emit(1)
    code = editor.layout_tried().boxes[-1]
    assert (code.what, code.x) == (What.CODE, 5)
    assert editor.side.currentText() == "Code at the left"
    assert editor.keep.isEnabled()


def test_a_sheet_takes_any_of_the_standards_papers(editor: SizesEditor) -> None:
    assert editor.paper.currentText() == "A4"
    editor.paper.setCurrentText("B4")
    editor.paper.activated.emit(editor.paper.currentIndex())
    grid = editor.layout_tried().grid
    assert grid is not None
    assert (grid.width, grid.height) == (250, 353)
    editor.paper.setCurrentText("A6")
    editor.paper.activated.emit(editor.paper.currentIndex())
    assert "the paper at 105 mm" in editor.faults.text()


def test_two_layouts_never_have_one_title(editor: SizesEditor) -> None:
    first = SHIPPED.named(FIRST)
    editor.begin(first, [first.title, f"My {first.title}"])
    assert editor.title.text() == f"My {first.title} 2"
    editor.title.setText(first.title)
    editor.title.textEdited.emit(first.title)
    assert "Another layout has this title." in editor.faults.text()
    assert not editor.keep.isEnabled()
    editor.begin(replace(first, own=True), [first.title])
    assert editor.keep.isEnabled()
