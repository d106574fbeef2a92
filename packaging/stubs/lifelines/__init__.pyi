from collections.abc import Sequence
from typing import Any

class KaplanMeierFitter:
    survival_function_: Any
    confidence_interval_: Any
    median_survival_time_: float
    def fit(self, durations: Sequence[float], event_observed: Sequence[bool] | None = None, *,
            entry: Sequence[float] | None = None) -> KaplanMeierFitter: ...
    def predict(self, times: float) -> float: ...
