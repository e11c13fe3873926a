"""The pad in each state, as drawings, as JSON and as text."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater import __version__
from noonwater.app.leaning import NAMED, leaning_dict, leaning_words, rows_leant_on
from noonwater.app.pad_shape import Sheets, state_shape
from noonwater.app.state_choice import chosen_states
from noonwater.app.study import content_print, study_flow
from noonwater.app.text import WIDTH, finding_lines, folded, number, table, wrapped
from noonwater.app.trace_words import grouped
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.core.units import System, in_system, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.drawing.pad_diagram import PadTitle
    from noonwater.drawing.pad_subject import Subject
    from noonwater.drawing.pad_water import PadWater
    from noonwater.model.circuit import Circuit, Part

_UNTOLD = ("pool", "tee", "plug")
"""Kinds that the text leaves out: open water, and what does as its neighbours do."""


@dataclass(frozen=True, eq=False)
class PadAnswer:
    """The pad of a job in every state, or in one."""

    job: Job
    circuit: Circuit
    waters: tuple[PadWater, ...]
    findings: tuple[Finding, ...]
    title: PadTitle

    @cached_property
    def subjects(self) -> tuple[Subject, ...]:
        """What is drawn, state by state."""
        from noonwater.drawing.pad_subject import Subject

        return tuple(Subject(self.circuit, water, self.job.units) for water in self.waters)

    @cached_property
    def sheets(self) -> tuple[Sheets, ...]:
        """The wide and the narrow drawing of each state."""
        from noonwater.drawing.pad_diagram import pad_diagram, pad_diagram_narrow

        forms = {"wide": pad_diagram, "narrow": pad_diagram_narrow}
        return tuple(
            {
                name: draw(self.circuit, water, self.title, units=self.job.units)
                for name, draw in forms.items()
            }
            for water in self.waters
        )

    def to_dict(self) -> dict[str, Any]:
        """Give what is drawn for JSON."""
        drawn = zip(self.subjects, self.sheets, strict=True)
        return {
            "job": self.job.name,
            "pipe": self.title.pipe,
            "inputs_hash": self.title.inputs_hash,
            "leans_on": leaning_dict(rows_leant_on(self.circuit, with_vessels=True)),
            "states": [state_shape(subject, sheets) for subject, sheets in drawn],
        }

    def lines(self, system: System) -> list[str]:
        """Tell findings, and for each state the parts in the order of the water."""
        from noonwater.drawing.pad_side import CAUTION

        lines = [*finding_lines(self.findings), "", f"The pad: {self.job.name}"]
        for subject in self.subjects:
            lines += ["", *_state_lines(subject, system)]
        leans = leaning_words(rows_leant_on(self.circuit, with_vessels=True))
        return [*lines, "", *textwrap.wrap(CAUTION, WIDTH), folded("Sources", (leans, NAMED))]

    def write(self, folder: Path) -> list[Path]:
        """Write a wide and a narrow SVG of each state; return what was written.

        Raises
        ------
        InputError
            When the folder can't be written to.
        """
        written = []
        try:
            folder.mkdir(parents=True, exist_ok=True)
            for water, sheets in zip(self.waters, self.sheets, strict=True):
                for form, sheet in sheets.items():
                    path = folder / f"pad-{_file_word(water.name)}-{form}.svg"
                    path.write_text(sheet.svg, encoding="utf-8")
                    written.append(path)
        except OSError as error:
            fault = Fault("--out", f"'{folder}'", "a folder that can be written to", str(error))
            raise InputError([fault]) from None
        return written


def answer_pad(job: Job, state: str | None = None) -> PadAnswer:
    """Solve a job's states and make them ready to draw.

    Raises
    ------
    InputError
        A state that isn't there.
    NotConverged
        When a state has no answer.
    """
    from noonwater.catalog.pipe import pipe_named
    from noonwater.drawing.pad_diagram import PadTitle
    from noonwater.drawing.pad_water import pad_waters
    from noonwater.hydraulics.speeds import with_speeds

    flow, findings = study_flow(job)
    chosen_states(flow.states, state)
    waters = tuple(pad_waters(with_speeds(job, job.pool.target), flow))
    pipe = pipe_named(job.pad.pipe, job.pad.schedule).name
    title = PadTitle(job.name, pipe, __version__, content_print(job))
    return PadAnswer(job, flow.circuit, tuple(chosen_states(waters, state)), findings, title)


def _file_word(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def _state_lines(subject: Subject, system: System) -> Iterator[str]:
    from noonwater.drawing.pad_side import state_sentence
    from noonwater.drawing.pad_words import HOLD_WORDS, bank_holds

    water = subject.water
    yield from wrapped(f"{water.name}: {state_sentence(water, system)}", "  ")
    holds = {node: water.holds(node) for node in subject.order}
    holds |= {name: bank_holds(bank, water) for name, bank in subject.graph.banks.items()}
    told = [node for node in subject.order if subject.graph.kind(node) not in _UNTOLD]
    rows = [_row(subject, node, system) for node in told if holds[node] == "carries"]
    if rows:
        units = [unit_label(kind, system) for kind in ("flow", "pressure", "pressure")]
        heads = [["part", "stands", "flow", "pressure", "pressure"], ["", "", "", "in", "out"]]
        yield from (f"  {line}" for line in table([*heads, ["", "", *units]], rows))
    for hold, words in HOLD_WORDS.items():
        still = [node for node in told if holds[node] == hold]
        if still and hold != "carries":
            yield from wrapped(f"  {words}: {grouped(still)}", "    ")


def _row(subject: Subject, node: str, system: System) -> list[str]:
    from noonwater.drawing.pad_words import panel_flows

    water, bank = subject.water, subject.graph.banks.get(node)
    if bank is not None:
        flow, stands = sum(panel_flows(bank, water)), f"{len(bank.panels)} panels"
        ends = [(bank.panels[0].name, "low"), (bank.panels[-1].name, "high")]
    else:
        part = subject.graph.parts[node]
        flow, stands = abs(water.flows[node]), _stands(part, water)
        ends = [(node, port) for port in _ends(part)]
    gauges = [water.pressures.get(end) for end in ends]
    shown = ["" if g is None else number(in_system(g, "pressure", system), 1) for g in gauges]
    figures = [number(in_system(flow, "flow", system), 1), *shown, *[""] * (2 - len(shown))]
    return [node, stands, *figures]


def part_stands(subject: Subject, name: str) -> str:
    """Say how a part stands in a state: position, speed or what its water does."""
    from noonwater.drawing.pad_words import HOLD_WORDS

    part, hold = subject.graph.parts.get(name), subject.water.holds(name)
    words = _stands(part, subject.water) if part is not None else ""
    return words or ("" if hold == "carries" else HOLD_WORDS[hold])


def part_told(subject: Subject, name: str, system: System) -> list[str]:
    """Tell a part in a state: how it stands, flow, pressure before and after it.

    Parameters
    ----------
    subject : Subject
        Circuit and state.
    name : str
        Of a part.
    system : {"US", "SI"}
        Units of the figures.
    """
    stands = part_stands(subject, name)
    if subject.water.holds(name) != "carries" or name not in subject.graph.parts:
        return [stands, "", "", ""]
    return [stands, *_row(subject, name, system)[2:]]


def _stands(part: Part, water: PadWater) -> str:
    from noonwater.drawing.pad_words import position_words

    if part.facts.driven:
        return f"{water.state.speed_of(part):.0f} rpm"
    return position_words(part, water)


def _ends(part: Part) -> Sequence[str]:
    """Ports whose pressures are told: in and out, of what has more ways the first alone."""
    if part.facts.body:
        return ()
    return part.ports if len(part.ports) == 2 else part.ports[:1]
