"""What a measure and an activity are: the frozen objects that the tables are turned into.

They are tuples with names: every start makes these classes, and a frozen dataclass costs three times as much.
"""

from __future__ import annotations

from typing import NamedTuple

from store.knowledge.words import Better, BoutKind, Mark, Side


class Source(NamedTuple):
    """Where a figure comes from."""

    id: str
    text: str


class Figure(NamedTuple):
    """A number that can say where it comes from.

    `source` is the id of a Source, empty for common practice; `formula` says how a derived one was reached.
    """

    value: float
    mark: Mark
    source: str = ""
    formula: str = ""
    says: str = ""


class ErrorFamily(NamedTuple):
    """One coherent measurement error, for one value of one side, in the measure's unit.

    Any of the three may be unknown. MDC is at 95 % and is 2.77 x SEM (Weir 2005) within each pair.
    `gap_mdc` is the error of a left-right gap between visits; None means root 2 times a side's.
    """

    id: str
    name: str
    sem_within: Figure | None = None
    sem_between: Figure | None = None
    mdc_within: Figure | None = None
    mdc_between: Figure | None = None
    gap_mdc: Figure | None = None
    examiners: int = 1
    chosen: bool = False  # put in force by the clinic's settings


class CutOff(NamedTuple):
    """A line that others draw, to be shown with its source; never a verdict by itself.

    `line` is a short word for the chart, such as "jog", where the figure is a line for the injured side's value;
    empty where it is a line for a gap, a share or a change.
    """

    says: str
    figure: Figure
    line: str = ""


class Scoring(NamedTuple):
    """How the total of a questionnaire is reached from its answers, and how many must be there.

    A percent is of the most that the answered items could give; a plain total is the sum, and wants every answer.
    """

    items: int
    lowest: int  # of one answer
    highest: int
    wanted: int  # answers, at least
    percent: bool
    mark: Mark
    source: str = ""
    says: str = ""


class Measure(NamedTuple):
    """A thing that can be measured. Ids and short forms are lower snake case."""

    id: str
    name: str  # as on screen: "lunge"
    long_name: str
    shows: str  # what it shows, in one sentence
    unit: str  # one of units.UNIT_WORDS
    step: float
    low: float  # hard limits
    high: float
    usual_low: float  # plausible range: outside it asks once more
    usual_high: float
    better: Better
    paired: bool
    counted: int  # trials that count, a side
    domain: str  # consensus domain
    short_forms: tuple[str, ...] = ()
    practice: int = 0  # practice trials before
    aggregate: str = "mean"  # mean | best | single
    symmetry: str = "difference"  # difference | lsi | none
    cap: float | None = None
    ordinal: bool = False
    asks: str = ""  # how it is asked of the person, if it is asked
    loading: bool = False  # does testing it load the ankle
    errors: tuple[ErrorFamily, ...] = ()  # the first is the default
    importance: Figure | None = None  # MCID
    cut_offs: tuple[CutOff, ...] = ()
    healthy: tuple[CutOff, ...] = ()  # reference values
    fresh_days: Figure | None = None
    protocol: str = ""  # id of the protocol: readings under another are not compared
    steps: tuple[str, ...] = ()
    protocol_figures: tuple[CutOff, ...] = ()  # where the protocol's own numbers come from
    cautions: tuple[str, ...] = ()
    evidence_id: str = ""  # its name in the evidence tables
    bout: str = ""  # id of the activity that measures it by a bout, if any
    made_of: tuple[str, ...] = ()  # the measures it is worked out from: it is never entered itself
    scoring: Scoring | None = None  # of a questionnaire: how its total is reached
    added: bool = False  # by the clinic's settings

    @property
    def sides(self) -> tuple[Side, Side] | tuple[None]:
        """Left, then right; of a single measure the one that has no side."""
        return (Side.LEFT, Side.RIGHT) if self.paired else (None,)

    @property
    def error(self) -> ErrorFamily | None:
        """The error family in force."""
        return self.errors[0] if self.errors else None


class Phase(NamedTuple):
    """One phase of a paced rep: the word the screen shows, and its seconds."""

    word: str
    seconds: float


class Dose(NamedTuple):
    """How much: sets of reps or holds, with rest between. Unused parts are zero or empty."""

    sets: int = 1
    reps: int = 0
    hold_s: float = 0.0  # of a hold, of timed work, of a set of oscillations
    rest_s: float = 0.0
    cap_s: float = 0.0  # hold to loss: the clock stops here
    phases: tuple[Phase, ...] = ()  # paced reps, hop and hold, the intervals of a walk-run
    shift_s: float = 0.0  # direction shifts: seconds a direction
    rate: float = 0.0  # oscillations a second
    word: str = ""  # timed work and oscillations: the giant word
    mark: Mark = Mark.COMMON
    source: str = ""
    says: str = ""  # which part of the dose the mark and source stand for


class Activity(NamedTuple):
    """A technique (hands on) or an exercise."""

    id: str
    name: str
    hands_on: bool
    kind: BoutKind
    dose: Dose
    domain: str
    shows: str = ""  # what it is for
    sides: str = "injured"  # injured | both | none
    set_up: tuple[str, ...] = ()
    anchor: str = ""  # where belt or band is fixed and which way it pulls
    cue_words: tuple[str, ...] = ()  # the one line on the bout screen
    directions: tuple[str, ...] = ()  # of shifts; of reaches, in order; of paced reps, one a set
    surface: str = ""  # firm | foam | half-dome
    ends: str = ""  # what ends a hold, or counts as a fault
    ask_pain: bool = False
    painless: bool = False  # pain of 1 or more: change the glide, then stop (mobilisation with movement)
    loading: bool = True
    measure: str = ""  # a hold to its own protocol becomes a reading of this measure
    cautions: tuple[str, ...] = ()
    source: str = ""
    mark: Mark = Mark.COMMON
    minutes: float = 5.0
    short_forms: tuple[str, ...] = ()
    phase: str = ""  # of the course, by the file it stands in: "first days"
    added: bool = False  # by the clinic's settings


class Caution(NamedTuple):
    """A usual caution, named where it can hurt someone. `short` is it in few words, where those of its id are
    not plain."""

    id: str
    says: str
    mark: Mark
    source: str = ""
    short: str = ""

    @property
    def name(self) -> str:
        """In a few words, for a list of several."""
        return self.short or self.id.replace("_", " ")
