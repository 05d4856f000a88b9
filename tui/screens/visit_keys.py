"""The keys of a visit, the most important first: of its form while that is open, of the step under the cursor."""

from __future__ import annotations

from tui.widgets.commands import Command, get, relabelled
from tui.widgets.plan_list import Stand


def keys_of(
    stand: Stand | None, *, saying: bool, ended: bool, signed: bool, only: str | Command
) -> list[str | Command]:
    """What the key line of a visit shows. `signed`: its note is, so that it stays ended. `only` is the key of the
    person's view, as it is called now.
    """
    end = relabelled(get("end"), "end visit")
    if saying:
        return [relabelled(get("open"), "next field"), relabelled(get("back"), "put away")]
    if ended:
        again = [] if signed else [relabelled(get("undo"), "open again")]
        rest: list[str | Command] = ["next", "measure", "timer", "drop", end, *(["undo"] if signed else [])]
        return ["note", *again, "back", "visits", "chart", "source", *rest]
    on = relabelled(get("next"), "go on" if stand is Stand.PAUSED else "next")
    drop = relabelled(get("drop"), "take back in" if stand is Stand.DROPPED else "leave out")
    acts: list[str | Command] = [on, "measure", "timer", "undo", drop, end]
    return [*acts, "back", "visits", "home", "chart", "source", "note", only, "jump"]
