"""A script that has nothing but the winter sheet's text winterizes the circuit, and reopens it.

It reads the PDF as a hand would: the state to begin in, then sentence by sentence, in a small
grammar of its own for each language. Names of parts are those of the pad and of the glossary.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

import pytest
from pypdf import PdfReader

from noonwater.core.units import System
from noonwater.document.language import language_of
from noonwater.document.material import Material
from noonwater.document.typeset import pdf
from noonwater.document.winter import winter_paper
from noonwater.hydraulics.arrangement_ready import arranged
from noonwater.hydraulics.flow import solve_flow
from noonwater.hydraulics.trace import trace_job
from noonwater.hydraulics.trace_moves import Act, Move
from noonwater.hydraulics.trace_replay import Step, replay
from noonwater.hydraulics.trace_service import first_scene
from noonwater.model.circuit import Circuit
from tests.jobs import example_job
from tests.papers import CODES, DEMOS, manner, material, page_text
from tests.trace_pads import NAMES

LITRES_IN_GALLON = 3.785411784


@dataclass(frozen=True)
class Grammar:
    """How one language's sheet speaks."""

    begin: str
    out: str
    back: str
    see: str
    left: str
    end: str
    acts: tuple[tuple[Act, str], ...]
    ways: dict[str, str]


GRAMMARS = {
    "en": Grammar(
        begin=r"Begin with the system in state '(.+?)'\.",
        out="Out of the season",
        back="Back into the season",
        see=" See: ",
        left=r"Water left when all this is done: ([\d.,]+) (gal|L)\.|No water is left when all",
        end="done by, date",
        acts=(
            ("stop", r"Stop the (?P<part>.+?), and switch it off at the breaker$"),
            (
                "start",
                r"Switch the (?P<part>.+?)'s breaker on and start it at (?P<speed>[\d,]+) rpm$",
            ),
            ("start", r"Bring the (?P<part>.+?) to (?P<speed>[\d,]+) rpm$"),
            ("fill", r"Fill the (?P<part>.+?)'s pot with water by hand$"),
            ("plug", r"Put a plug into (?P<part>.+?)$"),
            ("unplug", r"Take the plug out of (?P<part>.+?)$"),
            ("turn", r"Turn the (?P<part>.+?) (?P<way>between its two ways)$"),
            ("turn", r"Turn the (?P<part>.+?) to (?:the )?(?P<way>\w+)$"),
            ("open", r"Open the (?P<part>.+?)(?P<vessel>: lid or air relief, then drain plug)?$"),
            ("shut", r"Shut the (?P<part>.+?)(?P<vessel>: plug and lid)?$"),
        ),
        ways={"between its two ways": "between"},
    ),
    "es": Grammar(
        begin=r"Empiece con el sistema en el estado «(.+?)»\.",
        out="Fin de la temporada",
        back="De vuelta a la temporada",
        see=" Se ve: ",
        left=r"Agua que queda al terminar: ([\d.,]+) (gal|L)\.|Al terminar no queda agua",
        end="hecho por, fecha",
        acts=(
            ("stop", r"Parar: (?P<part>.+?), y apagar en el interruptor del tablero$"),
            (
                "start",
                r"Conectar el interruptor y arrancar: (?P<part>.+?), a (?P<speed>[\d,]+) rpm$",
            ),
            ("start", r"Llevar: (?P<part>.+?), a (?P<speed>[\d,]+) rpm$"),
            ("fill", r"Llenar a mano con agua la trampa de la (?P<part>.+?)$"),
            ("plug", r"Poner un tapón en: (?P<part>.+?)$"),
            ("unplug", r"Quitar el tapón de: (?P<part>.+?)$"),
            ("turn", r"Girar: (?P<part>.+?), (?P<way>entre sus dos vías)$"),
            ("turn", r"Girar: (?P<part>.+?), al? (?:la )?(?P<way>\w+)$"),
            ("open", r"Abrir: (?P<part>[^;]+?)(?P<vessel>; primero tapa .+)?$"),
            ("shut", r"Cerrar: (?P<part>[^;]+?)(?P<vessel>; tapón y tapa)?$"),
        ),
        ways={
            "entre sus dos vías": "between",
            "cerrada": "shut",
            "abierta": "open",
            "piscina": "pool",
            "limpiador": "cleaner",
        },
    ),
}


@lru_cache(maxsize=64)
def made_of(name: str) -> Material:
    """A demo's material; a ready arrangement's circuit with a demo's nights, for the dates."""
    if name in DEMOS:
        return material(name)
    job = arranged(example_job(), name)
    temp = job.pool.target
    return replace(
        material(DEMOS[0]), job=job, flow=solve_flow(job, temp), trace=trace_job(job, temp)
    )


def text_of_sheet(name: str, code: str, system: System) -> str:
    made = pdf(winter_paper(made_of(name), language_of(code, system)), manner(name, code, system))
    pages = [page_text(page.extract_text()) for page in PdfReader(io.BytesIO(made)).pages]
    return " ".join(" ".join(pages).split())


def names_in(circuit: Circuit, code: str) -> dict[str, str]:
    """What a crew calls each part and each port of the pools, to what the circuit calls it."""
    language = language_of(code, "US")
    own = [part.name for part in circuit.parts if part.kind not in ("tee", "plug")]
    own += [f"{p.name} {port}" for p in circuit.parts if p.facts.body for port in p.ports]
    return {language.part(name): name for name in own}


def sentences(text: str, grammar: Grammar) -> Iterator[tuple[str, str]]:
    """What to do, and what is seen, one after the other."""
    pieces = text.split(grammar.see)
    verbs = "|".join(sorted({rule.partition(" ")[0].rstrip(":") for _, rule in grammar.acts}))
    for before, after in pairwise(pieces):
        start = list(re.finditer(rf"\b(?:{verbs})\b", before))[-1].start()
        yield before[start:], after


def move_of(sentence: str, circuit: Circuit, code: str) -> Move:
    grammar, names = GRAMMARS[code], names_in(circuit, code)
    matches = ((act, re.match(rule, sentence)) for act, rule in grammar.acts)
    act, found = next((pair for pair in matches if pair[1]), (None, None))
    assert act is not None, f"no such sentence: {sentence}"
    assert found is not None
    told = found.groupdict()
    name = names[told["part"]]
    if act in ("plug", "unplug"):
        body = next(p for p in circuit.parts if p.facts.body and name.startswith(f"{p.name} "))
        return Move(act, name, port=(body.name, name.removeprefix(f"{body.name} ")))
    if act == "start":
        return Move(act, name, position=float(told["speed"].replace(",", "")))
    if act == "turn":
        way = grammar.ways.get(told["way"], told["way"])
        ways = circuit.part(name).ports[-2:]
        position = {"between": 0.5, "open": 1.0, "shut": 0.0, ways[0]: 0.0, ways[1]: 1.0}[way]
        return Move(act, name, way, position)
    if act in ("open", "shut") and not told["vessel"]:
        return Move(act, name, act, 1.0 if act == "open" else 0.0)
    return Move(act, name)


def litres(amount: str, unit: str) -> float:
    return float(amount.replace(",", "")) * (LITRES_IN_GALLON if unit == "gal" else 1.0)


def driven(name: str, code: str, system: System) -> tuple[list[Step], list[Step], float]:
    """Do what the sheet says: steps out and back, and the water that it says is left."""
    text, grammar = text_of_sheet(name, code, system), GRAMMARS[code]
    case = made_of(name).trace.case
    states = {language_of(code, system).part(s.name): s.state for s in made_of(name).trace.states}
    begin = re.search(grammar.begin, text)
    assert begin is not None
    left = re.search(grammar.left, text)
    assert left is not None
    scene = first_scene(case, states[begin[1]])
    ways: list[list[Step]] = []
    reopening = text.rindex(grammar.back)
    for part in (text[text.index(grammar.out) : left.start()], text[reopening:]):
        moves = [move_of(do, case.circuit, code) for do, _ in sentences(part, grammar)]
        steps = list(replay(case, scene, moves))
        scene = steps[-1].scene if steps else scene
        ways.append(steps)
    return ways[0], ways[1], litres(left[1], left[2]) if left[1] else 0.0


SHEETS = [(name, code) for name in (*DEMOS, *NAMES) for code in CODES]


@pytest.mark.parametrize(("name", "code"), SHEETS)
def test_the_sheet_alone_drains_the_circuit_and_brings_it_back(name: str, code: str) -> None:
    system: System = "US" if code == "en" else "SI"
    out, back, told = driven(name, code, system)
    assert out
    for step in (*out, *back):
        assert step.safe, f"{step.move}: floods {step.floods}, deadheads {step.deadheads}"
    last = out[-1]
    # Printed to a tenth below ten gallons or litres, whole above; under 5 mL in a part is not told.
    unit = LITRES_IN_GALLON if system == "US" else 1.0
    rounding = unit * (0.06 if told < 9.9 * unit else 0.6)
    assert last.water == pytest.approx(told, abs=rounding + 0.005 * len(last.parts))
    assert last.scene.state.speed == 0.0
    assert back[-1].scene.state.speed > 0.0
    assert "panel" in back[-1].carries


@pytest.mark.parametrize(("name", "code"), [("orchard-hill", "en"), (NAMES[1], "es")])
def test_a_sheet_with_a_step_left_out_does_not_drain(name: str, code: str) -> None:
    case = made_of(name).trace.case
    text, grammar = text_of_sheet(name, code, "SI"), GRAMMARS[code]
    part = text[text.index(grammar.out) : text.rindex(grammar.back)]
    moves = [move_of(do, case.circuit, code) for do, _ in sentences(part, grammar)]
    start = made_of(name).trace.state(made_of(name).trace.winter.start).state
    whole = replay(case, first_scene(case, start), moves)[-1].water
    for left_out in range(1, len(moves)):
        fewer = moves[:left_out] + moves[left_out + 1 :]
        assert replay(case, first_scene(case, start), fewer)[-1].water > whole + 0.1


@pytest.mark.parametrize("name", [*DEMOS, *NAMES])
def test_names_on_the_sheet_are_one_for_one(name: str) -> None:
    circuit = made_of(name).trace.case.circuit
    for code in CODES:
        parts = [part for part in circuit.parts if part.kind not in ("tee", "plug")]
        ports = [port for part in parts if part.facts.body for port in part.ports]
        assert len(names_in(circuit, code)) == len(parts) + len(ports)
    same = {name for name, part in names_in(circuit, "es").items() if name == part}
    assert same <= {"spa"}


@pytest.mark.parametrize(("name", "code"), [(DEMOS[0], "en"), (NAMES[1], "es")])
def test_the_amounts_that_must_be_seen_run_out(name: str, code: str) -> None:
    text, grammar = text_of_sheet(name, code, "SI"), GRAMMARS[code]
    part = text[text.index(grammar.out) : text.rindex(grammar.back)]
    out, _, _ = driven(name, code, "SI")
    for (_, see), step in zip(sentences(part, grammar), out, strict=True):
        amount = re.search(r"([\d.]+) L\b", see.split(grammar.left[:10])[0])
        if step.runs_out > 0.5:
            assert amount is not None
            assert float(amount[1]) == pytest.approx(step.runs_out, rel=0.06, abs=0.06)
