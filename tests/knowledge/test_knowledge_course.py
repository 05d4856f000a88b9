"""Spot checks of the figures of the whole course against the papers that they name."""

from __future__ import annotations

import pytest

from store.knowledge.cross import figures_of
from store.knowledge.kinds import CutOff
from store.knowledge.load import load
from store.knowledge.words import Mark

KNOWN = load()

READ = [
    # measure, part, source, values as printed
    ("time_in_balance", "cut_offs", "cain_2015", [23.5]),  # Cain and Linens 2015
    ("foot_lift", "cut_offs", "cain_2015", [4]),
    ("foot_lift", "healthy", "hiller_2007", [12.7, 25.1, 22.9]),  # Hiller 2007: controls, unstable, other ankle
    ("reach_composite", "cut_offs", "plisky_2006", [94]),  # Plisky 2006, girls
    ("reach_composite", "cut_offs", "composite_later", [89.6]),
    ("reach_ant", "cut_offs", "shaffer_2013", [31.3]),  # Shaffer 2013: soldiers with a gap above 4 cm
    ("reach_pm", "cut_offs", "munro_2010", [8.15]),  # Munro and Herrington 2010: 6.13 to 8.15 % of leg length
    ("force_ev", "healthy", "da_fonseca_2025", [8.7, 88.8]),  # da Fonseca 2025, table
    ("force_inv", "healthy", "da_fonseca_2025", [4.2]),
    ("force_df", "healthy", "da_fonseca_2025", [3.4]),
    ("force_pf", "healthy", "da_fonseca_2025", [5.2]),
    ("force_df", "cut_offs", "df_device_2018", [0.77]),
    ("drills", "cut_offs", "smith_2021", [98]),  # Smith 2021, table 2
    ("full_session", "cut_offs", "smith_2021", [87]),
    ("pain_sport", "cut_offs", "smith_2021", [93]),
    ("faam_adl", "cut_offs", "iac_2014", [90]),
    ("faam_sport", "cut_offs", "iac_2014", [80]),
    ("faam_adl", "healthy", "li_2020", [99.0, 97.0]),  # Li 2020: without and with instability
    ("faam_sport", "healthy", "li_2020", [98.4, 92.2]),
    ("cait", "cut_offs", "hiller_2006", [27.5]),
    ("cait", "cut_offs", "wright_2014", [25]),
    ("cait", "cut_offs", "li_2020", [24]),
    ("lefs", "healthy", "dingemans_2017", [77, 78, 76]),
    ("tsk_11", "cut_offs", "chimenti_2021", [22, 28, 35]),
    ("alr_rsi", "cut_offs", "alr_fracture_2024", [76.7]),
    ("anterior_drawer", "cut_offs", "netterstrom_2021", [54, 87]),
    ("anterior_drawer", "cut_offs", "van_dijk_1996", [96, 84]),  # the abstract; a digest has the pair reversed
]


@pytest.mark.parametrize(("measure", "part", "source", "values"), READ)
def test_figures_as_printed(measure: str, part: str, source: str, values: list[float]) -> None:
    found: tuple[CutOff, ...] = getattr(KNOWN.measures[measure], part)
    figures = [line.figure for line in found if line.figure.source == source]
    assert [figure.value for figure in figures] == values
    assert {figure.mark for figure in figures} == {Mark.READ}


@pytest.mark.parametrize(
    ("hop", "sem", "share"),
    [
        ("single_hop", 3.49, 9.7),
        ("triple_hop", 4.32, 12.0),
        ("crossover_hop", 5.28, 14.6),
        ("timed_hop", 5.59, 15.5),
    ],
)
def test_the_error_of_a_share_is_no_error_in_the_unit(hop: str, sem: float, share: float) -> None:
    """Reid 2007 gives errors of the share of the other side; those by test were only recalled."""
    measure = KNOWN.measures[hop]
    (line,) = [cut for cut in measure.cut_offs if cut.figure.source == "reid_2007"]
    assert line.figure.value == pytest.approx(2.77 * sem, abs=0.06) == share
    assert line.says.startswith("%")
    assert (line.figure.mark, measure.error) == (Mark.DERIVED, None)
    assert "recalled" in line.figure.formula


NEVER_READ = {
    "linens_2014",
    "childs_2005",
    "jaeschke_1989",
    "caffrey_2009",
    "iverson_2013",
    "kamper_2009",
    "reid_2007",
}
"""Sources of which the figures here were never seen in print."""


def test_no_figure_is_called_read_that_was_not_seen() -> None:
    read = {
        (measure.id, figure.source, figure.value)
        for measure in KNOWN.measures.values()
        for figure in figures_of(measure)
        if figure.mark is Mark.READ and figure.source in NEVER_READ
    }
    # The number of trials of the hop tests and the six metres stand in the abstracts; no line or error does.
    assert read == {
        ("side_hop", "caffrey_2009", 3.0),
        ("figure8_hop", "caffrey_2009", 3.0),
        ("timed_hop", "reid_2007", 6.0),
    }
