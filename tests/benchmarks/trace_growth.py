"""How the trace, the contacts it rests on and the standings grow with the collection: ratios of one run."""

from __future__ import annotations

import math
import random
import time
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta

from greenhouse_desk.domain.contacts import NOTHING_HANDLED, Stay, contacts, stays
from greenhouse_desk.domain.journal import Entry, Facts, Looked, Placed, Purpose, Sighted, Treated
from greenhouse_desk.domain.plants import History, Plant
from greenhouse_desk.domain.quarantine import standings, trace
from greenhouse_desk.domain.settings import HouseRules
from tests.benchmarks.ratio import Ratio

NOW = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
STAYS_EACH, ON_A_BENCH = 20, 10
SMALL, LARGE = 1_000, 10_000
INFESTED = 0.03


def histories(count: int) -> list[History]:
    """Invented plants: twenty moves each over three years, ten plants to a bench, some looks, a few pests."""
    dice = random.Random(f"{count} plants")
    benches = count // ON_A_BENCH
    made = []
    for number in range(1, count + 1):
        moves = sorted(dice.uniform(0, 1095) for _ in range(STAYS_EACH - 1))
        facts: list[tuple[float, Facts]] = [
            (1095.0, Placed(dice.randrange(benches), 1.0)),
            *((ago, Placed(dice.randrange(benches), 1.0)) for ago in reversed(moves)),
            *((float(ago), Looked(True, "10x")) for ago in range(dice.randint(1, 45), 1095, 45))]
        if dice.random() < INFESTED:
            found = dice.uniform(5, 170)
            facts += [(found, Sighted("mealybug")), (found - 1, Treated("soap", Purpose.PEST_WASH))]
        facts.sort(key=lambda one: -one[0])
        entries = tuple(Entry(100 * number + nth, NOW - timedelta(days=ago), fact, number)
                        for nth, (ago, fact) in enumerate(facts))
        made.append(History(Plant(number, "Laelia anceps", place=_last_place(entries)), entries))
    return made


def _last_place(entries: tuple[Entry, ...]) -> int | None:
    return next((entry.facts.place for entry in reversed(entries) if isinstance(entry.facts, Placed)), None)


def day(at: datetime) -> date:
    return at.date()


def best(work: Callable[[], object], times: int) -> float:
    """The shortest of some runs, in seconds of this process: others on the machine do not count."""
    spent = []
    for _ in range(times):
        begun = time.process_time()
        work()
        spent.append(time.process_time() - begun)
    return min(spent)


def figures(count: int, times: int) -> tuple[float, float, float]:
    """Seconds for the trace, for gathering its contacts, and for all standings, of a collection of `count`."""
    every = histories(count)
    stood: list[Stay] = [stay for one in every for stay in stays(one, NOW)]
    met = contacts(stood, NOTHING_HANDLED, day, NOW, {})
    return (best(lambda: trace(met, 1, NOW.date(), 180), times),
            best(lambda: contacts(stood, NOTHING_HANDLED, day, NOW, {}), times),
            best(lambda: standings(every, frozenset(), NOW, HouseRules()), times))


def ratios(quick: bool) -> Iterator[Ratio]:
    """Growth exponents between a small and a large collection: 1 is in step with its size."""
    small, large, times = (200, 2_000, 2) if quick else (SMALL, LARGE, 3)
    one, ten = figures(small, times), figures(large, times)
    for what, few, many in zip(("trace on its contacts", "contacts from stays", "standings of all plants"), one, ten,
                               strict=True):
        yield Ratio(f"{what}: growth exponent from {small} to {large} plants", math.log10(many / few),
                    f"{few * 1000:.1f} ms / {many * 1000:.1f} ms, {STAYS_EACH} stays a plant")


if __name__ == "__main__":
    for ratio in ratios(quick=False):
        print(ratio, flush=True)
