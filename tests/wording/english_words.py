"""Words by which English is told from Spanish."""

import re

ENGLISH = re.compile(
    r"\b(the|of|and|with|is|are|to|section|sections|retake|question|note|rest|measure|all|half|quarter|key|student)\b",
    re.IGNORECASE,
)
