from collections.abc import Sequence
from typing import Any

binom: Any
binomtest: Any
chi2: Any
hypergeom: Any
norm: Any

class CensoredData:
    @classmethod
    def right_censored(cls, x: Sequence[float], censored: Sequence[bool]) -> CensoredData: ...

def ecdf(sample: CensoredData | Sequence[float]) -> Any: ...
def logrank(x: CensoredData, y: CensoredData) -> Any: ...
