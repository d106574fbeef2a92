"""Looks owed after something: at crowns, cuts and roots, and as a protocol asks; what ends, moves and drops them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from greenhouse_desk.domain import care
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.care_reasons import listed_days
from greenhouse_desk.domain.journal import (
    Arrived,
    Cut,
    Dressed,
    Dry,
    Entry,
    Leaving,
    Left,
    Looked,
    Note,
    Part,
    Potted,
    ProtocolCheck,
    Reply,
    Roots,
    Sighted,
    Step,
    Unpotted,
    Wetted,
)
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, PLANT, ago
from tests.domain.care_asking import LONDON, answered, days, owed, text, told

CROWN = Wetted((Part.CROWN,))
SPIKE = Cut(Part.SPIKE)
PELLETS = Potted("expanded clay", "12 cm")


def test_a_wetted_crown_is_looked_at_on_days_2_and_5() -> None:
    assert days(owed(told((ago(), CROWN)), CareKind.CROWN_CHECK)) == [2, 5]
    assert owed(told((ago(), Wetted((Part.LEAVES,)))), CareKind.CROWN_CHECK) == ()


def test_a_cut_is_looked_at_on_days_3_and_7() -> None:
    assert days(owed(told((ago(), SPIKE)), CareKind.CUT_CHECK)) == [3, 7]


def test_repotted_roots_are_looked_at_in_weeks_2_4_8_12_and_16() -> None:
    moved = told((ago(), Potted("expanded clay", transition=True)))
    assert days(owed(moved, CareKind.ROOT_CHECK)) == [14, 28, 56, 84, 112]


def test_house_rules_move_the_looks_and_the_reasoning() -> None:
    rules = HouseRules(crown_check_first=1, cut_check_second=9, root_check_last=20)
    crown = owed(told((ago(), CROWN)), CareKind.CROWN_CHECK, rules=rules)
    assert days(crown) == [1, 5]
    assert "1 day after" in text(crown[0])
    assert "program's own is 2" in text(crown[0])
    assert "from memory" in text(crown[1])
    assert days(owed(told((ago(), SPIKE)), CareKind.CUT_CHECK, rules=rules)) == [3, 9]
    roots = owed(told((ago(), replace(PELLETS, transition=True))), CareKind.ROOT_CHECK, rules=rules)
    assert days(roots)[-1] == 140


def test_the_reasoning_names_the_entry_and_follows_it() -> None:
    (first, _) = owed(told((ago(), Cut(Part.SPIKE, 2))), CareKind.CUT_CHECK)
    assert "18 Nov 15:30: 2 cuts made on the spike" in text(first)
    assert "journal entry 1" in text(first)
    (other, _) = owed(told((ago(days=1), Cut(Part.ROOTS, 1))), CareKind.CUT_CHECK)
    assert "17 Nov 15:30: 1 cut made on the roots" in text(other)


@pytest.mark.parametrize(("facts", "ends"), [(Looked(True), True), (Looked(False), True),
                                             (Sighted("soft-rot"), True), (Dry(), False), (Dressed(), False)])
def test_a_look_or_a_sighting_ends_what_has_opened_and_nothing_else(facts: Looked, ends: bool) -> None:
    cut = told((ago(days=4), SPIKE), (ago(hours=1), facts))
    assert days(owed(cut, CareKind.CUT_CHECK)) == ([3] if ends else [-1, 3])


def test_a_look_before_a_check_opens_does_not_end_it() -> None:
    assert days(owed(told((ago(days=2), SPIKE), (ago(), Looked(True))), CareKind.CUT_CHECK)) == [1, 5]


def test_only_the_last_of_several_due_is_shown_and_tells_of_the_other() -> None:
    (one,) = owed(told((ago(days=7), SPIKE)), CareKind.CUT_CHECK)
    assert days((one,)) == [0]
    assert "The look due on 14 Nov was not taken; this one stands for it" in text(one)
    assert owed(told((ago(days=7), SPIKE), answered(one, Reply.DONE, ago())), CareKind.CUT_CHECK) == ()


@pytest.mark.parametrize(("days", "words"), [
    (["8 Nov"], "8 Nov"), (["8 Nov", "11 Nov"], "8 and 11 Nov"), (["8 Nov", "11 Nov", "20 Nov"], "8, 11 and 20 Nov"),
    (["28 Nov", "3 Dec"], "28 Nov and 3 Dec"), (["28 Dec 2025", "3 Jan"], "28 Dec 2025 and 3 Jan")])
def test_days_of_one_month_share_its_name(days: list[str], words: str) -> None:
    assert listed_days(days) == words


def test_done_ends_one_look_and_the_next_stays() -> None:
    first, _ = owed(told((ago(days=3), SPIKE)), CareKind.CUT_CHECK)
    done = told((ago(days=3), SPIKE), answered(first, Reply.DONE, ago()))
    assert days(owed(done, CareKind.CUT_CHECK)) == [4]


def test_put_off_moves_the_window_and_says_so() -> None:
    first, _ = owed(told((ago(days=3), SPIKE)), CareKind.CUT_CHECK)
    said = answered(first, Reply.PUT_OFF, ago(), days=2, reason="no light")
    moved = owed(told((ago(days=3), SPIKE), said), CareKind.CUT_CHECK)
    assert days(moved) == [2, 4]
    assert moved[0].opens == moved[0].due == date(2026, 11, 20)
    assert "put off until 20 Nov, because no light" in text(moved[0])


def test_a_look_put_off_tells_from_when_to_when_in_the_programs_words() -> None:
    (first, *_) = owed(told((ago(days=3), SPIKE)), CareKind.CUT_CHECK)
    assert (first.put_off, care.put_off_words(first, NOW, LONDON)) == (None, "")
    said = [answered(first, Reply.PUT_OFF, ago(hours=hours), days=days) for hours, days in ((3, 1), (1, 3))]
    (moved, *_) = owed(told((ago(days=3), SPIKE), *said), CareKind.CUT_CHECK)
    assert care.put_off_words(moved, NOW, LONDON) == "put off from 18 Nov to 21 Nov"


def test_a_look_that_is_put_off_takes_along_those_it_stood_for() -> None:
    wetted = (ago(days=7), CROWN)
    (shown,) = owed(told(wetted), CareKind.CROWN_CHECK)
    assert days((shown,)) == [-2]
    said = answered(shown, Reply.PUT_OFF, ago(), days=2)
    assert days(owed(told(wetted, said), CareKind.CROWN_CHECK)) == [2], "the first look does not come back as late"
    early = answered(owed(told((ago(), CROWN)), CareKind.CROWN_CHECK)[1], Reply.PUT_OFF, ago(), days=9)
    assert days(owed(told((ago(), CROWN), early), CareKind.CROWN_CHECK)) == [2, 9], "not yet due"


def test_put_off_twice_counts_the_last_time() -> None:
    first, _ = owed(told((ago(days=3), SPIKE)), CareKind.CUT_CHECK)
    said = [answered(first, Reply.PUT_OFF, ago(hours=2), days=9), answered(first, Reply.PUT_OFF, ago(), days=1)]
    assert days(owed(told((ago(days=3), SPIKE), *said), CareKind.CUT_CHECK)) == [1, 4]


def test_missed_leaves_it_open_and_is_told() -> None:
    first, _ = owed(told((ago(days=3), SPIKE)), CareKind.CUT_CHECK)
    missed = owed(told((ago(days=3), SPIKE), answered(first, Reply.MISSED, ago(hours=1))), CareKind.CUT_CHECK)
    assert days(missed) == [0, 4]
    assert missed[0].missed == ago(hours=1)
    assert "was not answered" in text(missed[0])


def test_declined_ends_it() -> None:
    first, _ = owed(told((ago(days=3), SPIKE)), CareKind.CUT_CHECK)
    said = answered(first, Reply.DECLINED, ago(), reason="cut tissue was dry")
    assert days(owed(told((ago(days=3), SPIKE), said), CareKind.CUT_CHECK)) == [4]


def test_a_look_not_taken_lapses_after_the_house_rule() -> None:
    assert owed(told((ago(days=40), SPIKE)), CareKind.CUT_CHECK)
    assert owed(told((ago(days=41), SPIKE)), CareKind.CUT_CHECK) == ()
    assert owed(told((ago(days=41), SPIKE)), CareKind.CUT_CHECK, rules=HouseRules(lapse_days=60))


def test_a_newer_cause_starts_the_count_again() -> None:
    again = told((ago(days=4), SPIKE), (ago(days=2), SPIKE))
    assert days(owed(again, CareKind.CUT_CHECK)) == [1, 5]
    twice_a_day = told((ago(hours=3), SPIKE), (ago(hours=1), SPIKE))
    assert days(owed(twice_a_day, CareKind.CUT_CHECK)) == [3, 7]


def test_a_new_potting_drops_the_looks_of_the_older_one() -> None:
    repotted = told((ago(days=30), replace(PELLETS, transition=True)), (ago(), Unpotted()), (ago(), PELLETS))
    assert days(owed(repotted, CareKind.ROOT_CHECK)) == [14, 28, 56, 84, 112]


@pytest.mark.parametrize("days_early", [0, 3])
def test_a_root_count_a_little_early_ends_the_look(days_early: int) -> None:
    counted = told((ago(days=14 - days_early), replace(PELLETS, transition=True)), (ago(), Roots(4, 1)))
    assert days(owed(counted, CareKind.ROOT_CHECK))[0] == 14 + days_early
    looked = told((ago(days=14), replace(PELLETS, transition=True)), (ago(), Looked(True)))
    assert days(owed(looked, CareKind.ROOT_CHECK))[0] == 0


def test_what_a_plant_came_in_owes_no_root_looks_but_a_repot_does() -> None:
    assert owed(told((ago(days=5), Arrived()), (ago(days=5), Potted("bark"))), CareKind.ROOT_CHECK) == ()
    assert owed(told((ago(days=5), Potted("bark"))), CareKind.ROOT_CHECK) == ()
    same_day = told((ago(days=5), Arrived()), (ago(days=5), Potted("bark")), (ago(days=5), PELLETS))
    assert owed(same_day, CareKind.ROOT_CHECK)
    assert owed(told((ago(days=50), Arrived()), (ago(days=5), PELLETS)), CareKind.ROOT_CHECK)
    assert owed(told((ago(days=5), Unpotted()), (ago(days=5), PELLETS)), CareKind.ROOT_CHECK)
    at_the_bench = History(PLANT, (Entry(1, ago(days=5), PELLETS, 101, run=3, step=8),))
    assert owed(at_the_bench, CareKind.ROOT_CHECK)
    unknown_day = replace(PELLETS, day_known=False)
    assert owed(told((ago(days=50), Arrived()), (ago(days=5), unknown_day)), CareKind.ROOT_CHECK) == ()


def test_open_cuts_are_dressed_and_never_lapse() -> None:
    (open_cuts,) = owed(told((ago(days=300), SPIKE), (ago(days=299), Cut(Part.ROOTS, 3))), CareKind.DRESS_CUT)
    assert "the 4 open cuts" in open_cuts.what
    assert "1 cut made on the spike" in text(open_cuts)
    assert owed(told((ago(days=2), SPIKE), (ago(days=1), Dressed())), CareKind.DRESS_CUT) == ()
    assert owed(told((ago(days=2), SPIKE), (ago(days=1), Dressed()), (ago(), SPIKE)), CareKind.DRESS_CUT)
    assert owed(told((ago(days=9), Dressed()), (ago(days=2), SPIKE), (ago(days=1), Dressed())),
                CareKind.DRESS_CUT) == ()


def test_a_plant_out_of_its_pot_is_to_be_potted() -> None:
    assert owed(told((ago(days=90), Unpotted())), CareKind.POT_UP)
    assert owed(told((ago(days=90), Unpotted()), (ago(days=89), PELLETS)), CareKind.POT_UP) == ()


def stepped(*facts: Step | Note | Cut, at: float = 0.0, checks: tuple[ProtocolCheck, ...]) -> History:
    entries = tuple(Entry(number, ago(days=at), told_, 101, run=1, step=7, checks=checks)
                    for number, told_ in enumerate(facts, start=1))
    return History(PLANT, entries)


def test_a_protocol_asks_for_looks_once_a_step_however_many_entries_it_wrote() -> None:
    checks = (ProtocolCheck("Look for mites with a lens", (4, 8), "eggs hatch by then"),
              ProtocolCheck("Weigh it", (1,)))
    asked_for = owed(stepped(Note("odd smell"), Step("Wash"), SPIKE, checks=checks), CareKind.CHECK)
    assert [(one.what, one.nth, one.origin) for one in asked_for] == [
        ("Weigh it", 2, 2), ("Look for mites with a lens", 0, 2), ("Look for mites with a lens", 1, 2)]
    assert days(asked_for) == [1, 4, 8]
    assert "eggs hatch by then" in text(asked_for[1])


def test_a_protocols_look_ends_with_an_inspection() -> None:
    checks = (ProtocolCheck("Look for mites with a lens", (4, 8)),)
    history = stepped(Step("Wash"), at=4, checks=checks)
    seen = replace(history, entries=(*history.entries, Entry(9, ago(), Looked(True), 101)))
    assert days(owed(history, CareKind.CHECK)) == [0, 4]
    assert days(owed(seen, CareKind.CHECK)) == [4]


def test_departed_plants_owe_nothing_and_what_is_to_come_has_not_happened() -> None:
    gone = replace(told((ago(days=1), SPIKE), (ago(), Left(Leaving.DEAD))), plant=replace(PLANT, left=Leaving.DEAD))
    assert owed(gone, CareKind.CUT_CHECK) == owed(gone, CareKind.DRESS_CUT) == ()
    assert owed(told((ago(hours=-1), SPIKE)), CareKind.DRESS_CUT) == ()
    assert owed(told((ago(hours=-1), SPIKE)), CareKind.DRESS_CUT, now=ago(hours=-1))


def test_every_care_has_a_reason_ends_in_a_conclusion_and_fits_a_card() -> None:
    long = ProtocolCheck("Look at the undersides of all leaves with the strongest lens", (30,))
    history = told((ago(days=3), SPIKE), (ago(days=2), CROWN), (ago(days=2), Unpotted()), (ago(days=1), PELLETS))
    checked = replace(history, entries=tuple(replace(one, checks=(long,)) for one in history.entries))
    cares = [one for kind in CareKind for one in owed(checked, kind)]
    assert len({(one.kind, one.origin, one.nth) for one in cares}) == len(cares) > 8
    for one in cares:
        assert one.why[-1].text
        for later in range(0, 200, 20):
            words = care.words(one, ago(days=-later), LONDON)
            assert len(words.text) <= 24, words
            assert words.mark in {"over", "today", "tomorrow", "later", "hold", "drying"}


@pytest.mark.parametrize(("later", "mark", "said"), [
    (0, "later", "cut check 21 Nov"), (2, "later", "cut check 21 Nov"), (3, "later", "cut check by 24 Nov"),
    (5, "tomorrow", "cut check by tomorrow"), (6, "today", "cut check today"), (7, "over", "cut check since 21 Nov"),
    (200, "over", "cut check 21 Nov 2026")])
def test_words_follow_the_day(later: int, mark: str, said: str) -> None:
    first, _ = owed(told((ago(), SPIKE)), CareKind.CUT_CHECK)
    assert care.words(first, ago(days=-later), LONDON) == care.CareWords(mark, said)


def test_soonest_first_whatever_the_kind_of_moment() -> None:
    history = told((ago(hours=1), SPIKE), (ago(hours=1), CROWN))
    every = [one for kind in CareKind for one in owed(history, kind)]
    ordered = care.soonest(reversed(every), LONDON, HouseRules())
    moments = [care.when(one.due, LONDON, HouseRules()) for one in ordered]
    assert moments == sorted(moments)
    assert {one.kind for one in ordered} == {CareKind.AIR, CareKind.DRESS_CUT, CareKind.CROWN_CHECK, CareKind.CUT_CHECK}
