"""Whole pages in Spanish: nothing of them is English, whoever put the words together."""

import re
from dataclasses import replace

import pytest
from sample_items import SAMPLES, form_of

from barwright.items.form import ALL_SECTIONS, Form
from barwright.pages import key_page, proof_page
from barwright.rhythm.conventions import Conventions
from barwright.tasks.packing import drawn_pictures
from barwright.wording.items_in_words import worded_form
from barwright.wording.language import language
from wording.english_words import ENGLISH


def spanish(form: Form) -> str:
    worded = worded_form(form)
    pictures = drawn_pictures([worded], Conventions(), "Bravura", progress=lambda *_: None)
    pages = (proof_page([worded], pictures) + key_page([worded], pictures)).decode()
    alternatives = " ".join(re.findall(r'alt="([^"]*)"', pages))
    plain = re.sub(r"<style>.*?</style>", " ", pages, flags=re.DOTALL)
    return re.sub(r"<[^>]*>", " ", plain) + alternatives


@pytest.mark.parametrize("retake", [0, 2])
@pytest.mark.parametrize("section", [ALL_SECTIONS, "3A"])
def test_no_english_stands_on_the_pages_of_a_spanish_quiz(section: str, retake: int) -> None:
    form = replace(form_of(*SAMPLES, title="Prueba", section=section), language="es", retake=retake)
    text = spanish(form)
    assert len(text.split()) > 1000
    assert ENGLISH.findall(text) == []
    if retake:
        assert f"{'Todos los grupos' if section == ALL_SECTIONS else section}, repetición 2" in text


def test_the_only_section_is_called_so_in_english() -> None:
    assert language("en-US").text("pages", "all_sections") == ALL_SECTIONS
