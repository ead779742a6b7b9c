"""`barwright plan` and `start --preset`: what the page of a plan does, from a terminal; and the text that stays."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barwright.errors import BarwrightError
from barwright.tasks.make import sound_blueprint
from barwright.tasks.packing import Order
from barwright.tasks.plan.changing import can_undo, change, earlier_file, undo
from barwright.tasks.plan.command import WantedChanges, changed, plan_lines
from barwright.tasks.plan.editing import AddPart, Put, RaisePart, RemovePart, edited
from barwright.tasks.plan.fields import changes_of
from barwright.tasks.plan.presets import preset_text, presets
from barwright.tasks.shortcut import shortcut, write_shortcut
from barwright.tasks.shown.plan import plan_shown
from barwright.templates_folder import templates_folder

STARTER = (templates_folder() / "start" / "blueprint.toml").read_text("utf-8")
VALUES = ["whole", "half", "quarter", "eighth", "sixteenth"]


def remarks(text: str) -> set[str]:
    """The remarks of a text, without those that stand in a line with a value of their own."""
    return {line for line in text.splitlines() if line.startswith("#")}


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.one_of(
            st.builds(Put, st.just(("elements", "notes")), st.lists(st.sampled_from(VALUES), unique=True)),
            st.builds(Put, st.just(("sections",)), st.lists(st.sampled_from(["A", "B", 'C "d"', "é"]), unique=True)),
            st.builds(Put, st.just(("quiz", "choices")), st.one_of(st.none(), st.integers(3, 5))),
            st.builds(Put, st.just(("title",)), st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]))),
            st.builds(Put, st.just(("conventions", "held")), st.sampled_from([None, "beats", "onset_only"])),
            st.builds(Put, st.just(("part", "1", "items")), st.integers(1, 9)),
            st.builds(AddPart, st.just("beats-left"), st.integers(1, 3)),
            st.builds(RaisePart, st.integers(2, 3)),
        ),
        max_size=6,
    )
)
def test_changes_come_to_what_is_wanted_and_whole_lines_of_remarks_stay(
    changes: list[Put | AddPart | RaisePart],
) -> None:
    text = edited(STARTER, changes, "x.toml")
    found = tomllib.loads(text)
    for place in {each.place for each in changes if isinstance(each, Put) and each.place[0] != "part"}:
        last = [each.value for each in changes if isinstance(each, Put) and each.place == place][-1]
        table = found if len(place) == 1 else found.get(place[0], {})
        assert table.get(place[-1]) == last
    assert len(found["part"]) == 3 + sum(isinstance(each, AddPart) for each in changes)
    assert remarks(STARTER) <= remarks(text)
    assert edited(text, [], "x.toml") == text


@pytest.mark.parametrize(
    ("text", "what", "told"),
    [
        ("title = ", [AddPart("beats-left", 1)],
         "q.toml: it cannot be changed piece by piece while it cannot be read: mend its text first"),
        ("part = []\n", [RemovePart(1)], "q.toml: there is no part 1: it has 0, counted from 1"),
        (STARTER, [RaisePart(1)], "q.toml: there is no part 0: it has 3, counted from 1"),
        (STARTER, [RemovePart(4)], "q.toml: there is no part 4: it has 3, counted from 1"),
        (STARTER, [RemovePart(1)] * 3,
         "q.toml: a plan needs at least one part: add another before you take this one out"),
        (STARTER, [AddPart("beat-left", 1)], "ask 'beat-left' is not known: did you mean 'beats-left'?"),
        ("elements = 3\n", [Put(("elements", "ties"), True)],
         "q.toml: this cannot be changed piece by piece, as its text is written: change it in the text"),
    ],
)  # fmt: skip
def test_what_cannot_be_changed_is_told(
    text: str, what: list[AddPart | RemovePart | RaisePart | Put], told: str
) -> None:
    with pytest.raises(BarwrightError) as error:
        edited(text, what, "q.toml")
    assert str(error.value) == told


def test_a_change_that_was_cut_short_before_the_plan_was_written_is_not_undone_twice(tmp_path: Path) -> None:
    path = tmp_path / "q.toml"
    path.write_text(STARTER, "utf-8")
    change(path, [Put(("title",), "B")])
    after = path.read_text("utf-8")
    kept = earlier_file(path).read_bytes()
    change(path, [Put(("title",), "C")])
    cut_short = earlier_file(path).read_bytes()
    path.write_text(after, "utf-8")  # the list of earlier texts was written, the plan was not
    assert earlier_file(path).read_bytes() == cut_short != kept
    undo(path)
    assert path.read_text("utf-8") == STARTER


def test_nothing_is_undone_over_what_others_wrote(tmp_path: Path) -> None:
    path = tmp_path / "q.toml"
    path.write_text(STARTER, "utf-8")
    change(path, [Put(("title",), "B")])
    path.write_text("# theirs\n" + path.read_text("utf-8"), "utf-8")
    assert not can_undo(path)
    with pytest.raises(BarwrightError) as error:
        undo(path)
    assert str(error.value) == f"{path} was changed elsewhere since, so nothing is undone: change it in its text"


def test_the_command_changes_what_it_is_told(tmp_path: Path) -> None:
    path = tmp_path / "q.toml"
    path.write_text(preset_text("band-4", title="Mine"), "utf-8")
    changed(
        path,
        WantedChanges(sets=("elements.notes=half,quarter", "elements.ties=true", "part.2.items=6"), add="beats-left"),
    )
    found = tomllib.loads(path.read_text("utf-8"))
    assert found["elements"]["notes"] == ["half", "quarter"]
    assert found["elements"]["ties"] is True
    assert [part["items"] for part in found["part"]] == [3, 6, 2, 2, 3]
    assert next(iter(plan_lines(path))) == "Mine: 2 sections, about 22 minutes"
    changed(path, WantedChanges(undo=True))
    assert path.read_text("utf-8") == preset_text("band-4", title="Mine")
    for wrong, told in (
        ("ties", "--set 'ties': write a key, = and a value, as in elements.ties=true"),
        (
            "elements.tie=true",
            "--set 'elements.tie=true': 'elements.tie' is no key of a plan: barwright plan --help shows some",
        ),
    ):
        with pytest.raises(BarwrightError) as error:
            changed(path, WantedChanges(sets=(wrong,)))
        assert str(error.value) == told


@pytest.mark.parametrize("preset", [each.id for each in presets()])
def test_every_preset_is_a_sound_plan(preset: str, tmp_path: Path) -> None:
    path = tmp_path / "q.toml"
    path.write_text(preset_text(preset), "utf-8")
    blueprint, _ = sound_blueprint(path, Order(tmp_path))
    assert blueprint.title.startswith("Rhythm check: ")


def test_shortcuts_quote_any_folder() -> None:
    folder = '/home/a/100% "it\'s" $HOME\\`x`'
    assert shortcut("linux", "/p", folder)[1].splitlines()[4] == (
        r'Exec="/p" "-m" "barwright" "desk" "/home/a/100%% \\"it' + "'" + r's\\" \\$HOME\\\\\\`x\\`"'
    )
    assert shortcut("darwin", "/p", "/a b'c")[1] == "#!/bin/sh\nexec /p -m barwright desk '/a b'\"'\"'c'\n"
    assert shortcut("win32", "C:\\p.exe", "C:\\100% music")[1].split("\r\n")[2] == (
        '"C:\\p.exe" -m barwright desk "C:\\100%% music"'
    )


def test_a_shortcut_may_be_run_and_replaces_nothing_by_itself(tmp_path: Path) -> None:
    (tmp_path / ".config").mkdir()
    (tmp_path / ".config" / "user-dirs.dirs").write_text('XDG_DESKTOP_DIR="$HOME/Bureau"\n', "utf-8")
    path = write_shortcut(tmp_path / "q", system="linux", python="/p", home=tmp_path, replace=False)
    assert path == tmp_path / "Bureau" / "Barwright.desktop"
    assert path.stat().st_mode & 0o111 == 0o111
    with pytest.raises(BarwrightError):
        write_shortcut(tmp_path / "q", system="linux", python="/p", home=tmp_path, replace=False)


@pytest.mark.parametrize(
    ("written", "ticked", "after"),
    [
        ("", ["en-US"], None),
        ("", ["es"], "es"),
        ("", ["en-US", "es"], ["en-US", "es"]),
        ('language = "es"\n', ["es"], "es"),
        ('language = "es"\n', ["en-US", "es"], ["en-US", "es"]),
        ('language = ["es", "en-US"]\n', ["en-US", "es"], ["es", "en-US"]),
        ('language = ["es", "en-US"]\n', ["en-US"], "en-US"),
        ('language = "es"\n', [], None),
    ],
)
def test_the_languages_of_a_form_are_one_text_or_two(
    written: str, ticked: list[str], after: object, tmp_path: Path
) -> None:
    text = written + STARTER.replace('language = "en-US"\n', "")
    raw = tomllib.loads(text)
    changes = changes_of(raw, {"on.language": ["1"], "language": ticked})
    assert tomllib.loads(edited(text, changes, "x.toml")).get("language") == after
    path = tmp_path / "plan.toml"
    path.write_text(text, encoding="utf-8")
    shown = plan_shown(path).fields["language"]
    held = raw.get("language", "en-US")
    assert {o.value for o in shown.options if o.on} == ({held} if isinstance(held, str) else set(held))
    assert [o.label for o in shown.options] == ["British English", "American English", "Español"]
