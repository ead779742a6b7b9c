"""Lists of schools: OneRoster CSV as 1EdTech publishes it, and any CSV of schools and sections."""

import zipfile
from pathlib import Path

import pytest

from barwright.errors import BarwrightError
from barwright.tasks.schools.reading import conditions_of, schools_in
from schools.many import CLASSES, LIST, ORGS


def written(folder: Path, orgs: str = ORGS, classes: str = CLASSES) -> Path:
    folder.mkdir(exist_ok=True)
    (folder / "orgs.csv").write_text(orgs, "utf-8")
    (folder / "classes.csv").write_text(classes, "utf-8")
    return folder


def told(path: Path, **where: str) -> list[tuple[str, str, str, tuple[str, ...]]]:
    return [(each.ident, each.name, each.folder, each.sections) for each in schools_in(path, where).schools]


MUSIC = [
    ("s1", "Alder Creek", "alder-creek", ("Band 6", "Choir")),
    ("s2", "Birch Hill, Upper", "birch-hill-upper", ("Band 7",)),
]


def test_a_folder_a_zip_and_either_file_of_one_roster_are_the_same(tmp_path: Path) -> None:
    folder = written(tmp_path / "roster")
    with zipfile.ZipFile(tmp_path / "roster.zip", "w") as archive:
        for name in ("orgs.csv", "classes.csv"):
            archive.write(folder / name, f"export/{name}")
    for path in (folder, tmp_path / "roster.zip", folder / "orgs.csv", folder / "classes.csv"):
        assert told(path, subjects="Music") == MUSIC
    assert schools_in(folder, {"subjects": "Music"}).without == 1
    assert [len(each.sections) for each in schools_in(folder, {}).schools] == [3, 1, 1]


def test_any_csv_has_schools_by_their_names(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("section;school\nBand 6;Élan\nBand 7;Élan\nBand 6;Élan\nBand 6;Dogwood\n", "utf-8")
    assert told(path) == [
        ("Dogwood", "Dogwood", "dogwood", ("Band 6",)),
        ("Élan", "Élan", "elan", ("Band 6", "Band 7")),
    ]


def test_schools_of_one_name_have_their_ids_in_their_folders(tmp_path: Path) -> None:
    folder = written(tmp_path / "r", ORGS.replace('"Birch Hill, Upper"', "Alder Creek"))
    assert [each[2] for each in told(folder, subjects="Music")] == ["alder-creek-s1", "alder-creek-s2"]


def test_each_school_has_a_seed_of_its_own_whatever_stands_beside_it(tmp_path: Path) -> None:
    folder = written(tmp_path / "r")
    one, two = schools_in(folder, {"subjects": "Music"}).schools
    assert len({*one.seeds(3), *two.seeds(3), *one.seeds(4)}) == 18
    [alone] = schools_in(written(folder, classes=CLASSES.replace(",s2,", ",s3,")), {"subjects": "Music"}).schools
    assert alone.seeds(3) == one.seeds(3)


def test_a_fault_of_one_school_is_its_own(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    many = "".join(f"Dogwood,Band {n}\n" for n in range(61))
    path.write_text(f"{LIST}{many}Elm,Band 6\nElm,band 6\n", "utf-8")
    assert {each.name: each.fault for each in schools_in(path, {}).schools} == {
        "Alder Creek": "",
        "Birch Hill": (
            "section '***' has no letter a-z or digit to name its folder by: give it a name such as 'Period 1'"
        ),
        "Cedar Flat": "",
        "Dogwood": "61 sections, and 1 to 60 can have a form: choose some by --where",
        "Elm": "sections 'Band 6' and 'band 6' would share a folder: rename one",
    }


@pytest.mark.parametrize(
    ("orgs", "classes", "message"),
    [
        (
            ORGS,
            CLASSES.replace(",s2,music", ",s9,music"),
            "{0}/classes.csv, line 4: schoolSourcedId = 's9' is no school of orgs.csv: export both lists again",
        ),
        (
            ORGS.replace("Alder Creek", ""),
            CLASSES,
            "{0}/orgs.csv, line 3: name is empty: write it, or delete the line",
        ),
        (
            ORGS,
            CLASSES.replace("Music", "Art").replace("music", "Art"),
            "{0}: no school of it has a class: is this the list of schools?",
        ),
        (
            ORGS.replace("sourcedId,status", "id,status"),
            CLASSES,
            "{0}/orgs.csv, line 1: there is no column 'sourcedId': did you mean 'parentSourcedId'?",
        ),
    ],
    ids=["no-school", "no-name", "no-class", "no-column"],
)  # fmt: skip
def test_what_is_wrong_is_told_by_its_line(tmp_path: Path, orgs: str, classes: str, message: str) -> None:
    folder = written(tmp_path / "r", orgs, classes)
    with pytest.raises(BarwrightError) as refused:
        schools_in(folder, {"subjects": "Music"})
    assert str(refused.value) == message.format(folder)


def test_zips_without_the_lists_or_damaged(tmp_path: Path) -> None:
    path = tmp_path / "r.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("orgs.csv", ORGS)
    with pytest.raises(BarwrightError) as refused:
        schools_in(path, {})
    assert str(refused.value) == f"{path}: there is no classes.csv in it: export both lists into one zip"
    raw = path.read_bytes()
    path.write_bytes(raw.replace(b"Maple", b"Mople"))
    with pytest.raises(BarwrightError) as refused:
        schools_in(path, {})
    assert str(refused.value) == f"{path}: this zip is damaged: export the lists again"


def test_schools_that_would_share_a_folder(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("school,section\nElm 1,Band\nElm-1,Band\nelm 1 elm 1,Band\n", "utf-8")
    with pytest.raises(BarwrightError) as refused:
        schools_in(path, {})
    assert str(refused.value) == (
        f"{path}: schools 'Elm 1' and 'Elm-1' would share the folder 'elm-1-elm-1': rename one"
    )


@pytest.mark.parametrize(
    ("texts", "message"),
    [
        (["Music"], "--where 'Music': write it as COLUMN=VALUE, e.g. subjects=Music"),
        (["a=1", "a=2"], "--where 'a=2': a is said twice: keep one of them"),
        ([], "the blueprints want different classes (sections_where): say which by --where"),
    ],
)
def test_conditions_that_say_nothing(texts: list[str], message: str) -> None:
    with pytest.raises(BarwrightError) as refused:
        conditions_of(texts, [{"subjects": "Music"}, {}])
    assert str(refused.value) == message
    assert conditions_of([], [{"a": "1"}, {"a": "1"}]) == {"a": "1"}
    assert conditions_of(["b = 2"], [{"a": "1"}, {}]) == {"b": "2"}
