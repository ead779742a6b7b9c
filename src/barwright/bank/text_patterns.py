"""What the texts of a bank look like, and how much there may be: shared by the models and the canonical grammar.

Bounds are far above anything that is ever written: a file from elsewhere is hostile until it has been checked.
"""

FORMAT = "barwright-bank"
VERSION = 1
MOST_CHOICES = 40
MOST_MISREADINGS = 60
MOST_RECORDS = 2000
LEAST_COUNTED, MOST_COUNTED = 5, 99_999
"""Students of a section whose answers are counted: of fewer a count would tell of one."""

# Patterns that the models and the grammar of canonical lines share.
IDENT = r"[0-9a-f]{16}"
FORM = r"f[0-9a-f]{16}"
KEBAB = r"[a-z0-9-]{1,80}"
# A misreading by its id, or two that are held at once.
WAY = rf"{KEBAB}(?:\+{KEBAB})?"
CONVENTION = r"[a-z0-9_-]{1,40}"
DATE = r"(?:\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01]))?".replace(r"\d", "[0-9]")
RHYTHM = r"[0-9+/a-zA-Z_.~*| ]{1,600}"
PRINTED = r"[^\x00-\x1f\x7f-\x9f]"
MOST_SHORT, MOST_LONG = 200, 2000
VERDICTS = ("approve", "retire", "comment")
MOST_RETURNED = 40  # retirements that one record takes back
