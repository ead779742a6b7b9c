"""What `make` tells of the forms it made: a table, what could not be kept, and on demand what the judge refused."""

from collections import Counter
from collections.abc import Iterator

from barwright.forms.assembly import MadeForm, spread
from barwright.tasks.accommodations import version_lines
from barwright.tasks.fairness import parallel_table, spread_lines
from barwright.tasks.guessing import guess_details, guess_lines
from barwright.tasks.make import Made
from barwright.tasks.printing import PDFS
from barwright.tasks.saying import counted
from barwright.tasks.standing import label
from barwright.tasks.telling import telling_line, wanted_line
from barwright.wording.reading_ease_spanish import called, perspicuity
from barwright.wording.reading_level import reading_grade, student_texts

# What imports are commonly limited to: uploads of 50 MB; over 250 items run into time limits. Common practice.
MANY_ITEMS, MANY_BYTES = 250, 50_000_000
MOST_SPREAD = 0.05  # of mean expected difficulty between the forms of a quiz


def summary(made: Made) -> tuple[str, ...]:
    """A table of the forms: items, mean difficulty, misreadings on offer, excerpts shared; and what was bent.

    Where each student gets one of several variants, the questions are counted, and the variants of each.
    """
    names = [label(each.form) for each in made.forms]
    width = max(len("form"), *map(len, names))
    pools = [_questions(each) for each in made.forms]
    drawn = any(each.form.items[0].pool for each in made.forms)
    counts = "questions  variants" if drawn else "items"
    lines = [f"{'form':<{width}}  {counts}  mean difficulty  misreadings (twice or more)  excerpts shared"]
    for name, questions, each in zip(names, pools, made.forms, strict=True):
        offered, items = each.tally.offered, len(each.form.items)
        often = sum(count >= 2 for count in offered.values())
        count = f"{questions:>9}  {items // questions:>8}" if drawn else f"{items:>5}"
        lines.append(
            f"{name:<{width}}  {count}  {float(each.difficulty):>15.2f}  "
            f"{f'{len(offered)} ({often})':>27}  {len(each.shared):>15}"
        )
    lines += parallel_table(made.forms, whole=False)
    lines += _apart(made)
    lines += [made.measured] if made.measured else []
    lines += guess_lines(names, made.forms)
    lines.append(telling_line([each.form for each in made.forms], made.folder))
    lines += _wanted(made)
    lines += [line for name, each in zip(names, made.forms, strict=True) for line in _bent(name, each)]
    if any(each.bent for each in made.forms):
        lines.append("More elements, longer excerpts with `measures`, or fewer items or sections help.")
    lines += _short(made)
    if made.unread:
        lines.append(f"Made anew without the old record, which could not be read: {made.unread}")
    lines += made.told
    lines += _large(made)
    lines += _printed(made)
    lines += version_lines(made.packed, made.accommodations)
    lines += [f"{form}: no longer in the record, since the whole quiz was made anew." for form in made.lost]
    lines += [
        f"Removed {made.folder / package}: it is of an earlier make, and not asked for now." for package in made.removed
    ]
    return tuple(lines)


def bent_lines(made: Made) -> tuple[str, ...]:
    """Whatever could not be kept as the blueprint wants it, a sentence each; none where all is as it should be."""
    names = [label(each.form) for each in made.forms]
    apart = list(_apart(made))[1:]
    bent = [line for name, each in zip(names, made.forms, strict=True) for line in _bent(name, each)]
    return (*apart, *bent, *_short(made), *made.told)


def bent_in_short(made: Made) -> str:
    """The same for a list of many quizzes: how much of it in how many forms; empty where all is as it should be."""
    items = sum(len(each.bent) for each in made.forms)
    forms = sum(bool(each.bent) for each in made.forms)
    short = {wanted.misreading for each in made.forms for wanted in each.wanted if wanted.shown < wanted.asked}
    told = [f"{counted(items, 'item')} in {counted(forms, 'form')} not quite parallel"] if items else []
    told += ["difficulties too far apart"] if len(list(_apart(made))) > 1 else []
    told += [f"{counted(len(short), 'misreading')} shown less often than asked"] if short else []
    told += [counted(len(made.told), "remark") + " on changed questions"] if made.told else []
    return "; ".join(told)


def _large(made: Made) -> Iterator[str]:
    """A line on packages that importers may balk at, the largest named."""
    sizes = {path: len(made.packed.files[path]) for path in made.packed.packages}
    path = max(sizes, key=lambda each: sizes[each], default="")
    items = max((len(each.form.items) for each in made.forms), default=0)
    if items > MANY_ITEMS or sizes.get(path, 0) > MANY_BYTES:
        megabytes = max(1, round(sizes.get(path, 0) / 1_000_000))
        yield (
            f"{path} holds up to {items:,} items and {megabytes:,} MB: many platforms balk at over {MANY_ITEMS} items "
            f"or {MANY_BYTES // 1_000_000} MB in one import. Try it early; if it stops or takes minutes, make several "
            "quizzes of fewer items."
        )


def _printed(made: Made) -> Iterator[str]:
    """What to print, and what is not on paper."""
    if made.packed.printed:
        folder, _, name = made.packed.printed[0].rpartition("/")
        yield (
            f"Paper: print {folder}/{name} for each student and {folder}/key.pdf for yourself"
            f"{', and so for each form' if len(made.packed.printed) > len(PDFS) else ''}."
        )
    if made.packed.one_variant:
        yield (
            f"On paper every student gets the first variant of {counted(made.packed.one_variant, 'question')}: the "
            "others are left out, since only a platform can draw one for each student."
        )


def _questions(made: MadeForm) -> int:
    return len({placed.number for placed in made.form.items})


def _apart(made: Made) -> Iterator[str]:
    if len(made.forms) < 2:
        return
    apart = float(spread(made.forms))
    yield f"Mean difficulties lie {apart:.1%} apart (aim: at most {MOST_SPREAD:.0%})."
    if apart > MOST_SPREAD:
        yield (
            f"Difficulty is {apart - MOST_SPREAD:.1%} over the aim: the excerpts that are left allow no better. "
            "Another seed, fewer items, or longer excerpts with `measures` help."
        )


def _bent(name: str, made: MadeForm) -> Iterator[str]:
    """A line on the items that are not quite parallel, for want of excerpts."""
    if made.bent:
        differ = "differs" if len(made.bent) == 1 else "differ"
        yield (
            f"{name}: {counted(len(made.bent), 'item')} {differ} a little from the first form's for want of excerpts "
            "(--verbose tells which)."
        )


def _short(made: Made) -> Iterator[str]:
    """A line for each misreading that the blueprint asks for and that shows in fewer items than asked."""
    lacking: dict[tuple[str, int], list[str]] = {}
    for each in made.forms:
        for wanted in each.wanted:
            if wanted.shown < wanted.asked:
                where = f"in {wanted.shown or 'none'} of {label(each.form)}"
                lacking.setdefault((wanted.misreading, wanted.asked), []).append(where)
    for (misreading, asked), places in lacking.items():
        yield (
            f"{misreading} was asked for in {counted(asked, 'item')}, and shows {', '.join(places)}: "
            "a part of its own, longer excerpts, or more elements help."
        )


def _wanted(made: Made) -> Iterator[str]:
    """One line on the misreadings that the blueprint names and that cannot be told well; those never offered apart."""
    offered = set.union(*({name for name, count in each.tally.offered.items() if count} for each in made.forms))
    wanted = dict.fromkeys(each.misreading for form in made.forms for each in form.wanted)
    named = [name for name in wanted if name in offered]
    if line := wanted_line([each.form for each in made.forms], named):
        yield line


def _reading(made: Made) -> Iterator[str]:
    """How easily the sentences of the quiz are read, where there is a formula for the language."""
    texts = [text for form in made.packed.forms for text in student_texts(form)]
    code = made.packed.forms[0].language
    if code.startswith("en"):
        yield (
            f"reading level: grade {reading_grade(texts):.1f} for who knows the music terms, "
            f"{reading_grade(texts, terms=False):.1f} for who does not (Flesch-Kincaid)"
        )
    if code.startswith("es"):
        ease = perspicuity(texts)
        yield f"reading level: {ease:.0f} of 100, {called(ease)} (perspicuity of Szigriszt-Pazos, scale INFLESZ)"


def judgements(made: Made) -> tuple[str, ...]:
    """For --verbose: what is not quite parallel, how hard it is to read, what the judge refused, what is on offer."""
    refused: Counter[str] = Counter()
    offered: Counter[str] = Counter()
    lines = []
    for each in made.forms:
        refused += each.tally.refused
        offered += each.tally.offered
        for bent, count in Counter(each.bent).items():
            lines.append(
                f"{label(each.form)}: not as in the first form{f' ({count} times)' if count > 1 else ''}: {bent}"
            )
    lines += guess_details([label(each.form) for each in made.forms], made.forms)
    lines += parallel_table(made.forms, whole=True)
    lines += spread_lines(made.forms, made.blueprint)
    lines += _reading(made)
    seen = sum(each.tally.judged for each in made.forms)
    short = sum(each.tally.short for each in made.forms)
    lines.append(f"judge: {seen} items seen, {refused.total()} refused; {short} excerpts had too few wrong answers")
    lines += [f"  {count} x {reason}" for reason, count in refused.most_common()]
    lines.append("misreadings on offer, all forms:")
    lines += [f"  {count} x {misreading}" for misreading, count in sorted(offered.items())]
    return tuple(lines)
