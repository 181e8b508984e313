"""The orders: published plates as data, and the code that scales them."""

from massing.canon.fit import (
    Departure,
    departures,
    fit_cornice,
    fit_order,
    rounded,
    spacing_axis_m,
    with_shaft,
)
from massing.canon.order import FittedCornice, FittedOrder, Member, Ornament
from massing.canon.tables import (
    BalustradeTable,
    Plate,
    Spacing,
    balustrade_table,
    canons,
    plate,
    plates,
    spacings,
)

CANONS = canons()
ORDERS = ("pier", "tuscan", "doric", "mutular doric", "ionic", "corinthian", "composite")
"""From the stoutest to the slightest."""

__all__ = [
    "CANONS",
    "ORDERS",
    "BalustradeTable",
    "Departure",
    "FittedCornice",
    "FittedOrder",
    "Member",
    "Ornament",
    "Plate",
    "Spacing",
    "balustrade_table",
    "departures",
    "fit_cornice",
    "fit_order",
    "plate",
    "plates",
    "rounded",
    "spacing_axis_m",
    "spacings",
    "with_shaft",
]
