"""`bank schema`: the JSON Schema of a bank's lines, for programs of others."""

import json

from barwright.bank.model import bank_schema


def schema() -> str:
    """The schema as JSON text, the same for the same version."""
    return json.dumps(bank_schema(), indent=2, sort_keys=True) + "\n"
