"""The families of questions: one file each, one row an ask."""

from barwright.items.asks import Ask
from barwright.items.families import count_labeling, measure_completion, meter_identification

FAMILIES: dict[str, tuple[Ask, ...]] = {
    family.FAMILY: family.ASKS for family in (measure_completion, count_labeling, meter_identification)
}
ASKS: dict[str, Ask] = {ask.id: ask for asks in FAMILIES.values() for ask in asks}
