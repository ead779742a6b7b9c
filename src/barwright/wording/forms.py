"""A form in words: what the writers of packages and pages get."""

from barwright.items.blueprint import ALL_SECTIONS
from barwright.items.families import ASKS
from barwright.items.forms import Form
from barwright.wording.items import worded_item
from barwright.wording.language import language
from barwright.wording.model import WordedForm


def worded_form(form: Form) -> WordedForm:
    """The form in the words of its language; raises TemplateError if a text is missing there."""
    words = language(form.language)
    entries = any(ASKS[i.item.ask].interaction == "entry" for i in form.items)
    section = form.section
    if form.retake:
        section = words.text("pages", "retake", {"section": form.section, "number": form.retake})
    alone = section == ALL_SECTIONS
    return WordedForm(
        ident=form.ident,
        title=form.title,
        name="" if alone else words.text("pages", "form", {"title": form.title, "section": section}),
        section=section,
        language=form.language,
        intro=words.texts("asks", "form.intro", {"entries": entries, "questions": len(form.items)}),
        items=tuple(worded_item(item, form.language) for item in form.items),
        shuffle=form.shuffle,
        feedback=form.feedback,
        credit=form.credit,
    )
