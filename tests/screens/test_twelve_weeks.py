"""One invented person from the first day to the recall, by keys alone: a fencer who rolled the left ankle.

What a clinician would notice is asserted at each visit: the stage, the gap, the forecast from the second
day of readings on, the criteria, the note, and who is to be called back.
"""

from __future__ import annotations

from pathlib import Path

from tests.screens.clinic_walk import SIZE, Clinic


async def new_person(clinic: Clinic) -> None:
    """The day after: who it is, which ankle, what for."""
    await clinic.press("f2")
    asked = ("Q.W.", "1999-05-02", "A.B.", "l", "", "", "yesterday", "", "league", "+12w", "fencing", "club")
    await clinic.press(*(key for answer in (*asked, "1", "0", "n", "n", "n") for key in (*answer, "enter")))
    assert "saved Q.W., left ankle" in clinic.said
    assert "week 1, day 1" in clinic.text
    assert "not yet graded" in clinic.text


async def says(clinic: Clinic, *answers: str) -> None:
    """What has changed, field by field; consent saves it."""
    await clinic.press("space", *(key for answer in answers for key in (*answer, "space")), "y")
    assert clinic.said == "saved what has changed"


async def screen_for_safety(clinic: Clinic) -> None:
    """Every question of the first screen, none of them a sign; the nail's colour is back in two seconds."""
    assert "Emergency first, 1 of" in (await clinic.press("s")).text
    before = ""
    while clinic.text != before:
        if clinic.said.startswith("Type a number in s"):  # n is no answer to that
            await clinic.press("2", "down")
        before = clinic.text
        for _ in range(8):  # a key that is held would be no answer
            clinic.clock.move(1)
            await clinic.press("n")
    await clinic.press("enter")
    assert "kept the safety screen" in clinic.said
    await clinic.press("escape")


async def lunge(clinic: Clinic, right: str, left: str) -> None:
    """The lunge with three trials a side, the uninjured one first."""
    values = (right, right, right, left, left, left)
    await clinic.press("space", *(key for value in values for key in (*value, "enter")))


async def take(clinic: Clinic, *lines: str) -> None:
    """Measures typed in one line each."""
    await clinic.press("m")
    for line in lines:
        await clinic.type(line, "enter")
        assert clinic.said.startswith("saved "), (line, clinic.text)
    await clinic.press("escape")


async def decide(clinic: Clinic, why: str) -> None:
    """The clinician's own decision on the stage on show."""
    await clinic.press("k")
    await clinic.type(why, "enter")
    assert clinic.said.startswith("decided: ")
    await clinic.press("escape")


async def sign(clinic: Clinic) -> str:
    """The note looked over and signed, which ends the visit."""
    told = (await clinic.press("n")).text
    await clinic.press("x")
    await clinic.go(1)
    await clinic.press("x")
    assert clinic.said == "note signed by A.B."
    return told


async def come_in(clinic: Clinic, day: int) -> str:
    """The day's caseload, and into the visit."""
    listed = await clinic.on_day(day)
    await clinic.press("enter", "v")
    return listed


async def first_day(clinic: Clinic) -> None:
    await new_person(clinic)
    await clinic.press("v")
    await clinic.press("space", "4", "space", "7", "space", "space", "space")
    assert "given way since the injury?" in clinic.text  # there was no visit before
    await clinic.press("escape")
    await says(clinic, "", "", "", "", "", "", "")
    await screen_for_safety(clinic)
    assert "safety re-asked" in clinic.text
    await take(clinic, "weight 1", "limp 2", "girth l 55.1 55.0 55.2 r 52.0 52.1 52.0", "pitting l 2 r 0")
    await clinic.press("h", "plus", "enter")  # the first thing offered in the first days
    assert "elevation" in clinic.text
    await clinic.press("space")
    assert "handed out" in clinic.said or "home programme" in clinic.text
    note = await sign(clinic)
    assert "weight on the leg" in note
    await clinic.press("escape", "escape")
    assert "3.1 larger" in clinic.line("girth")
    assert "next stage walk: 0 of 3 met; 3 short" in clinic.text
    await clinic.press("w")
    await clinic.type("+6d 9:30", "enter")
    assert clinic.said == "next visit Tue 09:30"


async def second_week(clinic: Clinic) -> None:
    listed = await come_in(clinic, 7)
    assert "Q.W. ◀ left not yet graded 2 today 09:30 girth, 3.1 larger none" in listed
    await says(clinic, "2", "4", "3", "3", "1", "5/6", "3")
    await clinic.press("space", "space")
    assert "no change reported" in clinic.text
    await lunge(clinic, "10.1", "3.1")
    assert "hidden" in clinic.line("before")
    await clinic.press("space")
    await clinic.bout(3, 75, "0")
    assert "left 3 x 10, pain 0 0" in clinic.line("✓ mobilisation")
    await lunge(clinic, "10.1", "5.2")
    assert "left +2.1 ▲ clear gain" in clinic.text
    await take(clinic, "weight 3", "limp 1", "girth l 53.5 53.5 53.5 r 52.0 52.0 52.0")
    assert "ready to walk? [walk]" in (await clinic.press("c")).text
    assert "3 of 3 met advice only" in clinic.text
    await decide(clinic, "walks without crutches")
    assert "gave way: 1 time" in await sign(clinic)
    await clinic.press("escape", "escape")
    assert clinic.line("girth").endswith("1.5 larger ▲ -1.6")
    assert "7.0 short" in clinic.line("lunge")
    await clinic.press("up", "g")
    assert "7.0 short" in clinic.text
    assert "forecast" not in clinic.text  # it wants readings on two days


async def visit_with_lunge(clinic: Clinic, day: int, left: str, *said: str) -> None:
    """A visit of which the hands-on part and its re-test are left out."""
    await come_in(clinic, day)
    await says(clinic, *said)
    await clinic.press("space", "space")
    await lunge(clinic, "10.1", left)
    await clinic.press("d", "down", "d")
    assert "d again leaves it out and shows what was hidden" in clinic.text
    await clinic.go(1)
    await clinic.press("d")
    assert f"left {left}, right 10.1" in clinic.text


async def third_and_fourth_week(clinic: Clinic) -> None:
    await visit_with_lunge(clinic, 14, "5.5", "1", "3", "2", "2", "0", "6/7", "5")
    await clinic.press("space")  # from what is left out on to the holds
    await clinic.bout(6, 34, "3")
    assert "left 3 holds" in clinic.text
    await sign(clinic)
    await visit_with_lunge(clinic, 21, "6.7", "1", "2", "1", "1", "0", "6/7", "6")
    await sign(clinic)
    await clinic.press("escape", "escape")
    assert "3.4 short" in clinic.line("lunge, cm")
    await clinic.press("g")
    assert "shade: forecast, 80 %" in clinic.text
    assert "jog 8.0: clearly short" in clinic.text
    assert "expected" in clinic.text


async def fifth_week(clinic: Clinic) -> None:
    await visit_with_lunge(clinic, 28, "7.8", "1", "2", "1", "1", "0", "6/7", "7")
    assert "ready to jog?" in (await clinic.press("c")).text
    assert "not measured" in clinic.line("hops on the spot")
    await clinic.press("escape")
    await take(
        clinic, "girth 52.4 52.0", "heel l 21 r 24", "stance l 40 r 45", "hop_spot l yes r yes", "pain_hop 1"
    )  # fmt: skip
    assert "8 of 9 met; 1 short" in (await clinic.press("c")).text
    assert "short, close" in clinic.line("lunge")
    await decide(clinic, "jogs on grass from next week, lunge close")
    assert "7.8" in await sign(clinic)
    listed = await clinic.home()
    assert listed.split("stage ▸ ")[1].split()[-1] != "none"
    assert "jog" in clinic.line("Q.W.")


async def ninth_week(clinic: Clinic) -> None:
    await visit_with_lunge(clinic, 57, "9.1", "0", "1", "0", "0", "0", "6/7", "8")
    assert "ready to run? walk ✓ 1 Dec jog ✓ 22 Dec [run]" in (await clinic.press("c")).text
    assert "stale" in clinic.line("girth")
    assert "met, close" in clinic.line("lunge")
    await decide(clinic, "runs twenty minutes without a sign")
    await sign(clinic)


async def twelfth_week(clinic: Clinic) -> None:
    await visit_with_lunge(clinic, 83, "10.0", "0", "0", "0", "0", "0", "6/7", "9")
    await take(
        clinic, "pain_sport 0", "drills yes", "full_session yes",
        "hop l 150 152 151 r 155 156 154", "side_hop l 9.0 8.9 9.0 r 8.8 8.7 8.8",
    )  # fmt: skip
    await clinic.press("c", "right")
    assert "ready for sport?" in clinic.text
    assert "6 of 6 met advice only" in clinic.text
    await decide(clinic, "back on the piste, a full session without trouble")
    await sign(clinic)
    await clinic.press("escape", "escape")
    assert "ready for sport, decided 15 Feb 2027; x closes the episode" in clinic.text
    assert "0.1 short ▲ +6.9" in clinic.line("lunge, cm")


async def closing_and_recall(clinic: Clinic) -> None:
    await clinic.press("x")
    assert clinic.said.startswith("episode closed")
    assert "closed 15 Feb 2027" in clinic.text
    assert "recall 3 months after discharge, 15 May 2027" in clinic.text
    assert "0 open" in await clinic.home()
    assert "recall" not in await clinic.on_day(83 + 60)
    listed = await clinic.on_day(83 + 92)
    assert "0 open, 0 seen today, 1 recall due" in listed
    assert "Q.W." in listed


VISITS = (
    first_day, second_week, third_and_fourth_week, fifth_week, ninth_week, twelfth_week, closing_and_recall,
)  # fmt: skip


async def test_from_the_first_day_to_the_recall(tmp_path: Path) -> None:
    clinic = Clinic(tmp_path)
    async with clinic.app.run_test(size=SIZE) as clinic.pilot:
        await clinic.settle()
        for visit in VISITS:
            await visit(clinic)
