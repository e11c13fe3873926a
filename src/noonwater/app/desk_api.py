"""A kept job's answers in the one shape of JSON, as the command line gives them."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

from noonwater.app import verbs
from noonwater.app.answer_shape import (
    Answer,
    answer_json,
    fault_finding,
    input_findings,
    refusal_json,
)
from noonwater.app.desk import View
from noonwater.app.desk_prices import price_file_of
from noonwater.app.size_answer import SizeWish
from noonwater.app.store_files import job_file
from noonwater.app.telephone import answer_call
from noonwater.app.telephone_answer import CallAnswer
from noonwater.app.telephone_typed import CALL_FIELDS, read_call, readings_to_tell
from noonwater.core.errors import Fault, InputError, NoonwaterError

VERBS: dict[str, Callable[[Path], Answer]] = {
    "flow": verbs.flow,
    "year": verbs.year,
    "night": verbs.night,
    "trace": verbs.trace,
    "pad": verbs.pad,
    "check": verbs.check,
    "parts": verbs.parts,
    "money": verbs.money,
    "size": lambda path: verbs.size(path, SizeWish()),
    "tune": verbs.tune,
    "search": verbs.search,
}
"""By the name of the command."""
OK, WRONG, NO_ANSWER = 200, 422, 409


def api_answer(view: View, verb: str, state: str | None = None) -> tuple[int, str]:
    """Answer a verb for a job as it was typed.

    Parameters
    ----------
    view : View
        The job.
    verb : str
        By `VERBS`.
    state : str, optional
        Of the circuit, for trace and pad; all where left out.

    Returns
    -------
    (int, str)
        Status of HTTP, and JSON in the one shape.
    """
    with tempfile.TemporaryDirectory() as folder:
        name, text = job_file(view.state)
        path = Path(folder) / name
        path.write_text(text, encoding="utf-8")
        if (prices := price_file_of(view)) is not None:
            (Path(folder) / prices.name).write_bytes(prices.body)
        try:
            return OK, answer_json(_answer(path, verb, state))
        except InputError as error:
            return WRONG, refusal_json(input_findings(error))
        except NoonwaterError as error:
            return NO_ANSWER, refusal_json([fault_finding("no-answer", str(error))])


def api_call(view: View, told: Mapping[str, str]) -> tuple[int, str]:
    """Answer a call for a job.

    Parameters
    ----------
    view : View
        The job.
    told : mapping of str to str
        By field, with units; a bare number is in the job's.

    Returns
    -------
    (int, str)
        Status of HTTP, and JSON in the one shape; what can't be read is refused, each as a finding.
    """
    known = {*CALL_FIELDS, *(reading.key for reading in readings_to_tell(view.job))}
    odd = [Fault(key[:60], "no such field", ", ".join(sorted(known))) for key in {*told} - known]
    typed = read_call(view.job, told)
    faults = [*view.faults, *odd, *typed.faults.values()]
    if faults:
        return WRONG, refusal_json(input_findings(InputError(faults)))
    try:
        return OK, answer_json(CallAnswer(view.job, answer_call(view.job, typed.wish)))
    except NoonwaterError as error:
        return NO_ANSWER, refusal_json([fault_finding("no-answer", str(error))])


def _answer(path: Path, verb: str, state: str | None) -> Answer:
    if verb == "trace":
        return verbs.trace(path, state)
    if verb == "pad":
        return verbs.pad(path, state)
    return VERBS[verb](path)
