"""The orders: published plates as data, and the code that scales them."""

from massing.canon.fit import FittedCornice, FittedOrder, Member

__all__ = ["FittedCornice", "FittedOrder", "Member"]
