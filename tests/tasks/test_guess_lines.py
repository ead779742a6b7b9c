"""What `make` says of guessing: whole lines."""

import re

from barwright.blueprint.parsing import read_blueprint
from barwright.forms.assembly import made_forms
from barwright.forms.seeing import seen_form
from barwright.guesser import STRATEGIES, winnings
from barwright.tasks.guessing import AIM, guess_details, guess_lines, lucky_points

PLAN = """title = "Guessing"
sections = ["A", "B"]
[elements]
meters = ["2/4", "3/4", "4/4"]
notes = ["half", "quarter", "eighth"]
rests = ["quarter"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 4
[[part]]
family = "measure-completion"
ask = "beats-left"
items = 1
"""


def test_the_line_names_the_best_rule_and_what_luck_gives_the_best_of_so_many() -> None:
    made = made_forms(read_blueprint(PLAN, "plan.toml")[0])
    lines = list(guess_lines(["A", "B"], made))
    lucky = lucky_points(seen_form(made[0].form))
    assert len(lines) == 2
    for name, each, line in zip("AB", made, lines, strict=True):
        whole = winnings(seen_form(each.form)).whole
        won = round(100 * whole.over(whole.best))
        told = (
            f"{name}: who reads neither question nor figure wins {won} points over chance at best ({whole.best}). Luck "
            f"alone gives the best of {len(STRATEGIES)} such rules about {lucky} in 4 items; aim: at most {AIM} more."
        )
        assert line == told + " --verbose tells by ask what binds." * (won > lucky + AIM)


def test_details_say_what_luck_gives_in_an_ask_and_what_binds_only_above_it() -> None:
    made = made_forms(read_blueprint(PLAN, "plan.toml")[0])
    for each, line in zip(made, guess_details(["A", "B"], made), strict=True):
        won = winnings(seen_form(each.form)).asks["finish-measure"]
        lucky = lucky_points(seen_form(each.form))
        assert f" (luck alone: about {lucky})" in line
        binds = re.search(r"\)(: .*)?$", line)
        assert binds is not None
        assert bool(binds[1]) == (round(100 * won.over(won.best)) > lucky + AIM)


def test_no_line_on_a_form_in_which_nothing_is_picked() -> None:
    typed = PLAN.replace('"finish-measure"', '"beats-left"').replace("items = 4", "items = 2")
    assert list(guess_lines(["A", "B"], made_forms(read_blueprint(typed, "plan.toml")[0]))) == []
