"""How much hangs on what is assumed beforehand: the findings again, with other priors and slip rates."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from barwright.results.answers import Administered, Findings, Response
from barwright.results.diagnosing import diagnosed
from barwright.results.rates import USUAL, Rates


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """What other assumptions change: of the findings (`of` so many) some are `lost`, and others are `new`."""

    assumed: str
    of: int
    lost: int
    new: int


def other_rates(rates: Rates) -> dict[str, Rates]:
    """Assumptions that one might make instead, by what they are."""
    steady, unsteady = rates.slips
    return {
        "half the prevalence": replace(rates, prevalence=rates.prevalence / 2, seldom=rates.seldom / 2),
        "twice the prevalence": replace(rates, prevalence=rates.prevalence * 2, seldom=rates.seldom * 2),
        "half the slips": replace(rates, slips=(steady / 2, unsteady / 2)),
        "half more slips": replace(rates, slips=(steady * 1.5, unsteady * 1.5)),
    }


def sensitivity(
    given: Sequence[Administered], responses: Sequence[Response], rates: Rates = USUAL
) -> tuple[Sensitivity, ...]:
    """What changes in the findings of single students if something else is assumed."""
    usual = _named(diagnosed(given, responses, rates))
    changes = []
    for assumed, others in other_rates(rates).items():
        other = _named(diagnosed(given, responses, others))
        changes.append(Sensitivity(assumed, len(usual), len(usual - other), len(other - usual)))
    return tuple(changes)


def _named(findings: Findings) -> set[tuple[str, str, tuple[str, ...]]]:
    return {(s.student, s.form, finding.misreadings) for s in findings.students for finding in s.findings}
