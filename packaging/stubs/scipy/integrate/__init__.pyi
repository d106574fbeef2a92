"""What the checks use of scipy.integrate: quadrature of a function of one number."""

from collections.abc import Callable, Sequence

def quad(func: Callable[[float], float], a: float, b: float, *, points: Sequence[float] | None = ...,
         limit: int = ...) -> tuple[float, float]: ...
