"""The errors that Barwright raises on purpose; anything else is a fault of ours.

BarwrightError
├── RhythmError       a rhythm text or a measure that cannot be
├── BlueprintError    a blueprint with faults; all of them at once
│   └── UnfairError   forms that would be too poor to be fair; another seed may give others
├── ItemError         an item that cannot be made, or that the judge refuses
├── CapacityError     fewer different items than the blueprint asks for
├── StandardError     a standard that cannot express what it was given
├── FontError         a music font that is not one, or lacks a glyph
├── TemplateError     wording that is missing or broken
├── BankError         a bank that cannot be read or written; a line of it that is not what it says
├── PackageError      a package that cannot be read, or that must not be
│   └── DocumentError one file of it that is not well-formed XML
├── ResultsError      answers that cannot be read, or that are of another quiz
└── OutputError       a folder or file that must not be overwritten
"""

from collections.abc import Callable, Iterable


class BarwrightError(Exception):
    """Base of all; its text is one line that a teacher can act on."""


class RhythmError(BarwrightError):
    """A rhythm text or measure that cannot be: says the measure, what it holds and what it needs."""


class BlueprintError(BarwrightError):
    """All faults of one blueprint: `faults` holds one line each, with file, line, value and mend."""

    def __init__(self, faults: Iterable[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(self.faults))

    def __reduce__(self) -> tuple[type["BlueprintError"], tuple[tuple[str, ...]]]:
        """What makes it again in another process."""
        return type(self), (self.faults,)


class UnfairError(BlueprintError):
    """Forms that would be too poor to be fair, or not parallel: another seed may give others."""


class ItemError(BarwrightError):
    """An item that cannot be made, or that the judge refuses: says the item and the reason."""


class CapacityError(BarwrightError):
    """Fewer different items than asked for: says what can be given and what would help; `part` counts from 1."""

    def __init__(self, text: str, *, part: int = 1) -> None:
        self.part = part
        super().__init__(text)


class StandardError(BarwrightError):
    """A standard that cannot express an interaction or option: names both."""


class FontError(BarwrightError):
    """A music font that cannot be read or lacks a glyph: names the file and the glyph."""


class TemplateError(BarwrightError):
    """Wording that is missing or broken: names the language, the template and the word."""


class BankError(BarwrightError):
    """A bank, or a line of one, that cannot be read or written: says what is wrong and the mend."""


class PackageError(BarwrightError):
    """A package that cannot be read or must not be: says the file in it, what it is and what to do instead."""


class DocumentError(PackageError):
    """One file of a package that is not well-formed XML: `path`, `line` from 1 (0: no telling), and `why`."""

    def __init__(self, path: str, why: str, *, line: int = 0) -> None:
        self.path, self.why, self.line = path, why, line
        where = f" in line {line}" if line else ""
        super().__init__(f"{path}: it is not well-formed XML{where}: {why}")

    def __reduce__(self) -> tuple[Callable[..., "DocumentError"], tuple[str, str, int]]:
        """What makes it again in another process."""
        return _document_error, (self.path, self.why, self.line)


def _document_error(path: str, why: str, line: int) -> DocumentError:
    return DocumentError(path, why, line=line)


class ResultsError(BarwrightError):
    """A file of answers that cannot be read, or is of another quiz: names the file, what is wrong, and the mend."""


class OutputError(BarwrightError):
    """A folder or file that must not be overwritten: names it and the option that replaces it."""
