from collections.abc import Sequence

class StatisticalResult:
    test_statistic: float
    p_value: float

def logrank_test(durations_A: Sequence[float], durations_B: Sequence[float], event_observed_A: Sequence[bool],
                 event_observed_B: Sequence[bool]) -> StatisticalResult: ...
