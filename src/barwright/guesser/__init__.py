"""A student who sees the choices only: no stem, no figure, and wins by habit what should be won by reading.

The guesser holds named strategies (`strategies`), sees what is printed in the choices (`seen`) and tells what each
strategy wins over chance in a form (`winnings`). It knows neither key nor misreading when it picks, and nothing of how
items are made.

Sources: Millman, Bishop & Ebel 1965, An analysis of test-wiseness, Educ. Psych. Measurement 25:707-726; J. K. Smith
1982, Converging on correct answers, J. Educ. Measurement 19 (from memory): the choice that shares most with the others.
"""

from barwright.guesser.luck import luck
from barwright.guesser.moments import Moments
from barwright.guesser.seen import SeenChoice, SeenItem, seen_choice
from barwright.guesser.strategies import AT_SIGHT, HABITS, STRATEGIES, Past
from barwright.guesser.winnings import Ledger, Winnings, winnings

__all__ = [
    "AT_SIGHT",
    "HABITS",
    "STRATEGIES",
    "Ledger",
    "Moments",
    "Past",
    "SeenChoice",
    "SeenItem",
    "Winnings",
    "luck",
    "seen_choice",
    "winnings",
]
