"""Changes the rules one small piece at a time, in copies, and counts how many changes the tests do not notice.

Run from the checkout, after `pip install -r packaging/requirements-long.txt`:

    python packaging/mutate.py [--sample N] [--seed N] [--workers N] [TOPIC ...]

Without a topic: all rules of the domain. With --sample: so many changes, drawn from all there are. Two cores need about
half an hour for 500.
"""

from __future__ import annotations

import argparse
import random
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path
from queue import SimpleQueue
from tempfile import TemporaryDirectory
from time import monotonic

from mutants import CHECKOUT, CHUNK, Answer, Copy, Mutant

from greenhouse_desk.domain.sampling import wilson

Subject = tuple[tuple[str, ...], tuple[str, ...]]


def rule(modules: str, tests: str, *more: str) -> Subject:
    """Modules of the domain, and the tests beside them and against published values, by the beginnings of their names.

    A full stop at the end of a module's name means no more than that name. `more` tests come after those.
    """
    changed = tuple(f"greenhouse_desk/domain/{name.removesuffix('.')}{'' if name.endswith('.') else '*'}.py"
                    for name in modules.split())
    beside = (f"tests/{room}/test_{name}*.py" for name in tests.split() for room in ("domain", "outside"))
    return changed, (*beside, *more)


RULES: dict[str, Subject] = {
    "air": rule("air.", "air"),
    "logger": rule("air_", "air_log air_slots", "tests/store/test_air.py", "tests/services/test_air_import.py"),
    "airflow": rule("airflow sun.", "airflow sun care_air"),
    "agents": rule("agents. hazards.", "agents protocols trade"),
    "water": rule("water", "water agents"),
    "pests": rule("pests degree_days.", "pest agents care_washes care_pests"),
    "care": rule("care", "care airflow trade", "tests/services/test_care.py"),
    "courses": rule("courses", "courses", "tests/services/test_transitions.py"),
    "chances": rule("chances. dealings.", "sampling", "tests/services/test_dealings.py",
                    "tests/services/test_inspections.py"),
    "quarantine": rule("quarantine sampling. trace. contacts.", "quarantine sampling trace"),
    "transitions": rule("transitions", "transitions survival"),
    "pots": rule("pots.", "pots"),
    "names": rule("names", "names"),
    "protocol": rule("protocol", "protocols trade"),
    "plan": rule("bench. bench_plan", "bench_plan"),
    "bench": rule("bench_[!p]", "bench", "tests/services/test_treatments_[cdest]*.py"),
    "countdown": rule("countdown.", "countdown"),
}
"""The rules of the domain: what is changed, and the tests that ought to notice."""
SUBJECTS: dict[str, Subject] = {
    **RULES,
    "thinning": (("greenhouse_desk/store/thinning.py",),
                 ("tests/store/test_thinning.py", "tests/services/test_backup.py")),
    "bell": (("greenhouse_desk/ui/bell.py",), ("tests/ui/test_bell.py",)),
}


def files(patterns: Iterable[str], there: Path = CHECKOUT) -> list[str]:
    """The files of the checkout, or of a copy made of it a while ago, that these patterns mean."""
    return list(dict.fromkeys(path.relative_to(there).as_posix() for pattern in patterns
                              for path in sorted(there.glob(pattern))))


def found(copy: Copy, topics: Iterable[str]) -> dict[Mutant, str]:
    """Every change there is to make, with its topic; what cannot matter is left out and said."""
    all_found: dict[Mutant, str] = {}
    for topic in topics:
        for module in files(SUBJECTS[topic][0], copy.at):
            mutants, idle = copy.mutants(module)
            all_found.update(dict.fromkeys(mutants, topic))
            print(f"{module}: {len(mutants)} changes; {idle} left out", flush=True)
    return all_found


def ask(copies: Sequence[Copy], chosen: dict[Mutant, str]) -> list[tuple[str, Answer]]:
    """Make the chosen changes, a share in each copy at a time."""
    by_module: dict[tuple[str, str], list[Mutant]] = defaultdict(list)
    for mutant, topic in chosen.items():
        by_module[topic, mutant.module].append(mutant)
    chunks = [(topic, module, group[start:start + CHUNK]) for (topic, module), group in sorted(by_module.items())
              for start in range(0, len(group), CHUNK)]
    free: SimpleQueue[Copy] = SimpleQueue()
    for copy in copies:
        free.put(copy)

    def work(chunk: tuple[str, str, list[Mutant]]) -> list[tuple[str, Answer]]:
        topic, module, group = chunk
        copy = free.get()
        try:
            answers = copy.ask(topic, module, group)
            print(f"{module}: {len(answers)} shown, {sum(one.survived for one in answers)} unnoticed")
            for one in answers:
                if one.survived:
                    print(f"{one.mutant.line} {one.mutant.operator}\n{one.diff}")
            print(end="", flush=True)
            return [(topic, answer) for answer in answers]
        finally:
            free.put(copy)

    with ThreadPoolExecutor(len(copies)) as pool:
        return [answer for group in pool.map(work, chunks) for answer in group]


def share(survived: int, of: int) -> str:
    """A share in words, with Wilson's interval."""
    span = wilson(survived, of)
    return f"{survived} of {of} unnoticed, {survived / of:.1%} ({span.low:.1%} to {span.high:.1%})"


def report(answers: Sequence[tuple[str, Answer]]) -> None:
    """The survivors, then the shares: for each topic, and for all."""
    for topic, answer in answers:
        if answer.survived:
            print(f"\n{topic}: {answer.mutant.module}:{answer.mutant.line} {answer.mutant.operator}\n{answer.diff}")
    of, survived = Counter(topic for topic, _ in answers), Counter(topic for topic, one in answers if one.survived)
    print()
    for topic in of:
        print(f"{topic}: {share(survived[topic], of[topic])}")
    print(f"all: {share(survived.total(), of.total())}")
    print(f"noticed only because the tests took too long: {sum(one.too_long for _, one in answers)}")


def main() -> None:
    """Draw, ask, report."""
    read = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    read.add_argument("--sample", type=int, help="how many changes to make; all when not given")
    read.add_argument("--seed", type=int, default=1, help="which draw")
    read.add_argument("--workers", type=int, default=2, help="how many at a time")
    read.add_argument("topics", nargs="*", metavar="TOPIC", help=f"of {', '.join(SUBJECTS)}")
    asked = read.parse_args()
    topics = asked.topics or list(RULES)
    if unknown := set(topics) - set(SUBJECTS):
        read.error(f"no such topic: {', '.join(sorted(unknown))}")
    begun = monotonic()
    with TemporaryDirectory(prefix="greenhouse-mutants-") as there, ExitStack() as made:
        copies = [made.enter_context(Copy.made(there, nth)) for nth in range(asked.workers)]
        for topic in topics:
            copies[0].must_pass(topic, files(SUBJECTS[topic][1], copies[0].at))
        chosen = found(copies[0], topics)
        if asked.sample and asked.sample < len(chosen):
            drawn = random.Random(asked.seed).sample(sorted(chosen), asked.sample)
            print(f"{asked.sample} of {len(chosen)} changes drawn, seed {asked.seed}", flush=True)
            chosen = {mutant: chosen[mutant] for mutant in drawn}
        report(ask(copies, chosen))
    print(f"in {(monotonic() - begun) / 60:.0f} minutes")


if __name__ == "__main__":
    main()
