"""The families of questions: one file each, one row an ask."""

from barwright.asks import count_labeling, measure_completion, meter_identification
from barwright.asks.ask import Ask

FAMILIES: dict[str, tuple[Ask, ...]] = {
    family.FAMILY: family.ASKS for family in (measure_completion, count_labeling, meter_identification)
}
ASKS: dict[str, Ask] = {ask.id: ask for asks in FAMILIES.values() for ask in asks}
