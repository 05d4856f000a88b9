"""The two lines of the running screen: what is planned, and how a session or the morning after it went."""

from __future__ import annotations

from tui.widgets.asked_line import AskedLine


class PlanRuns(AskedLine):
    """On which days, from when, from which rung."""

    LABEL, FIELD, MOST = "run on", "runs", 80
    HOW = "mon wed fri from 9 dec, alternate, rung 3, or off"
    HELP_TEXT = (
        "How running is planned: days of the week, such as mon wed fri, or alternate for every other day; from "
        "and a day, where it does not begin today; rung 3 where it does not begin on the first one; another "
        "ladder by its name (i lists them); off calls it off. Other days alone keep the rung. Enter saves."
    )
    DEFAULT_CSS = """
    PlanRuns Input { width: 26; }
    """


class TellRun(AskedLine):
    """How a session went, or the morning after it."""

    LABEL, FIELD, MOST = "how it went", "went", 300
    HOW = "rung, pain 1, swelling no"
    HELP_TEXT = (
        "How a session went: the rung as it was run, the most pain during it (0 to 10), swelling yes or no; where "
        "it was another day, that first, such as mon; minutes and km where they are known, such as continuous 32 "
        "min 5.1 km pain 0; and note with words in quotes. Next day the morning after it: morning 0; with pain "
        "every morning also the usual, morning 1 usual 1. Enter saves."
    )
    DEFAULT_CSS = """
    TellRun Input { width: 34; }
    TellRun.-long Input { width: 1fr; }
    TellRun.-long .how { width: auto; }
    """
