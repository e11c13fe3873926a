"""How many panels, as JSON, as text and as a chart."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater import __version__
from noonwater.app.job_file import read_job
from noonwater.app.job_option import read_option
from noonwater.app.priced import prices_of, refuse_currency
from noonwater.app.size_words import size_lines
from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.app.text import below_findings
from noonwater.app.weather import weather_of
from noonwater.core import jit
from noonwater.core.errors import Fault, Gathered, InputError
from noonwater.core.finding import Finding
from noonwater.core.progress import Told, untold
from noonwater.core.quantity import Quantity
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import System, read_quantity
from noonwater.model.job import Job
from noonwater.model.plant import Bank
from noonwater.model.pool import DAYS_BEFORE_MONTH

if TYPE_CHECKING:
    from noonwater.design.size import SizeStudy
    from noonwater.design.size_curve import SizeCurve, SizePoint

KWH = 3.6e6
PER_HOUR = 3600.0
USUAL_SHARE = 0.9
"""[-] Of the season's days at the target, where nobody asks for another share. Ours."""
Read = tuple[float, float | None, float | None, str]
"""Share of days [-], flow a panel [m³/s], budget [currency], season as an option of the job."""
MONTHS = re.compile(r"\s*(\d{1,2})\s*(?:-\s*(\d{1,2})\s*)?")


@dataclass(frozen=True)
class SizeWish:
    """What the owner wants otherwise than the job file says, as typed.

    Attributes
    ----------
    target : str
        Temperature with its unit; "" as in the job.
    months : str
        "4-10"; "" as in the job.
    flow : str
        Through each panel, with its unit; "" as the job's pump is set.
    share : str
        Of the season's days at the target; "" for the usual.
    budget : str
        In the job's currency; "" for none.
    prices : str
        File of a price list that counts instead of the job's; "" for none.
    roofs : tuple of str
        Planes to look at; none for all.
    """

    target: str = ""
    months: str = ""
    flow: str = ""
    share: str = ""
    budget: str = ""
    prices: str = ""
    roofs: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class SizeAnswer:
    """Curves of a job's panels, and what bounds them."""

    job: Job
    study: SizeStudy
    share: float
    sources: tuple[str, ...]
    findings: tuple[Finding, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """Give curves and limits for JSON."""
        from noonwater.design.size_curve import KNEE_RULE, KNEE_SOURCE

        study = self.study
        days = self.share * study.season_days
        return {
            "job": self.job.name,
            "target_C": self.job.pool.target,
            "opens": self.job.pool.opens,
            "closes": self.job.pool.closes,
            "season_days": study.season_days,
            "currency": self.job.money.currency,
            "comfort_rule": COMFORT_RULE,
            "knee_rule": KNEE_RULE,
            "knee_source": KNEE_SOURCE,
            "flow_per_area_m3h_m2": study.flow_per_area * PER_HOUR,
            "own_panels": self.job.array.panels,
            "wanted_share_of_days": self.share,
            "limits": [asdict(limit) for limit in study.limits],
            "curves": [_curve_dict(curve, days) for curve in study.curves],
            "sources": list(self.sources),
        }

    def lines(self, system: System) -> list[str]:
        """Tell the curve, the knee, cover against none, the planes, the limits."""
        lines = size_lines(self.study, self.share, self.sources, system)
        return below_findings(self.findings, lines)

    def chart(self, narrow: bool = False) -> str:
        """Draw the curves as SVG, for the desk or for a telephone."""
        from noonwater.drawing.sheet import DESK, POCKET
        from noonwater.drawing.size_chart import size_chart

        form = POCKET if narrow else DESK
        return size_chart(self.study, units=self.job.units, version=__version__, form=form)

    def write(self, folder: Path) -> list[Path]:
        """Write the curves as an SVG chart; return what was written.

        Raises
        ------
        InputError
            When the folder can't be written to.
        """
        picture = folder / "size.svg"
        try:
            folder.mkdir(parents=True, exist_ok=True)
            picture.write_text(self.chart(), encoding="utf-8")
        except OSError as error:
            fault = Fault("--out", f"'{folder}'", "a folder that can be written to", str(error))
            raise InputError([fault]) from None
        return [picture]


COMFORT_RULE = "a day counts whose mean is at the target or above, in the season"


def answer_size(path: Path | str, wish: SizeWish = SizeWish(), told: Told = untold) -> SizeAnswer:
    """Answer how many panels a job wants.

    Parameters
    ----------
    path : Path or str
        A job file.
    wish : SizeWish
        What is wanted otherwise than it says.
    told : callable, optional
        Is told how far it is.

    Returns
    -------
    SizeAnswer

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job or the wish; NotConverged where a year has no answer.
    """
    from noonwater.design.size import size
    from noonwater.design.system_price import system_price
    from noonwater.hydraulics.speeds import with_speeds

    job, (share, panel_flow, budget, _) = _wished(path, wish)
    job = with_speeds(job, job.pool.target)
    per_area = None if panel_flow is None else panel_flow / _panel_area(job)
    prices = prices_of(job, Path(path).parent, wish.prices or None)
    study = size(
        job,
        surroundings_of(on_every_plane(job)),
        flows_by_period,
        lambda variant: prices.factor * system_price(variant, prices.rows).total,
        roofs=wish.roofs,
        per_area=per_area,
        budget=budget,
        told=told,
    )
    jit.note_engine_compiled()
    weather = weather_of(job).provenance
    memory = 100.0 * system_price(job, prices.rows).from_memory
    priced = (
        f"{memory:.0f} % of the parts' price from memory (United States retail, not converted)"
        if memory
        else "prices of the price list; what it lacks from memory"
    )
    sources = (f"weather {weather.source}", weather.uncertainty, priced)
    return SizeAnswer(job, study, share, sources, prices.findings)


def _wished(path: Path | str, wish: SizeWish) -> tuple[Job, Read]:
    """Read the job as it is wished, and the wish; all faults of both at once."""
    from noonwater.design.size import refuse_planes

    gathered = Gathered()
    read = gathered.read(lambda: _read_wish(wish))
    target = f"pool.target={wish.target}" if wish.target else ""
    option = "; ".join(filter(None, (target, read[3] if read else "")))
    job = gathered.read(lambda: read_option(path, option) if option else read_job(path))
    known = job or Gathered().read(lambda: read_job(path))
    if known is not None:
        gathered.read(partial(refuse_planes, known, wish.roofs))
        gathered.read(partial(refuse_currency, known, "--budget", wish.budget))
    if job is None or read is None or gathered.errors:
        raise gathered.error()
    return job, read


def _read_wish(wish: SizeWish) -> Read:
    """Share of days, flow a panel, budget, season as an option of the job; all faults at once."""
    faults: list[Fault] = []

    def read(name: str, text: str, quantity: Quantity) -> float | None:
        try:
            return read_quantity(text, quantity) if text else None
        except QuantityError as error:
            faults.append(Fault(name, error.given, error.allowed, error.remedy))
            return None

    share = read("--share", wish.share, Quantity("share", "of the season's days", 0.01, 1.0))
    flow = read("--flow", wish.flow, Quantity("flow", "through each panel", 1e-5, 0.01))
    budget = read("--budget", wish.budget, Quantity("price", "that may be paid", 1.0, 1e8))
    months = _season(wish.months, faults)
    if faults:
        raise InputError(faults)
    return USUAL_SHARE if share is None else share, flow, budget, months


def _season(text: str, faults: list[Fault]) -> str:
    if not text:
        return ""
    matched = MONTHS.fullmatch(text)
    first, last = (
        (int(month) for month in (matched[1], matched[2] or matched[1])) if matched else (0, 0)
    )
    if not (1 <= first <= 12 and 1 <= last <= 12):
        allowed = 'months by number, such as "4-10", "11-3" or "7"'
        faults.append(Fault("--months", f"'{text}'", allowed))
        return ""
    length = DAYS_BEFORE_MONTH[last] - DAYS_BEFORE_MONTH[last - 1]
    return f'pool.opens="{first:02d}-01"; pool.closes="{last:02d}-{length}"'


def _panel_area(job: Job) -> float:
    from noonwater.catalog import panel_named

    return panel_named(job.array.banks[0].panel, own=job.own_panel).area


def on_every_plane(job: Job) -> Job:
    """The job with panels on every plane: its surroundings serve all of its arrays."""
    like = job.array.banks[0]
    banks = tuple(Bank(roof.name, 1, like.panel) for roof in job.roof)
    return replace(job, array=replace(job.array, banks=banks))


def _curve_dict(curve: SizeCurve, days: float) -> dict[str, Any]:
    enough = curve.least_for(days)
    return {
        "planes": list(curve.planes),
        "cover": curve.cover,
        "knee_panels": curve.knee,
        "panels_for_wanted_share": None if enough is None else enough.panels,
        "points": [_point_dict(curve, place, point) for place, point in enumerate(curve.points)],
    }


def _point_dict(curve: SizeCurve, place: int, point: SizePoint) -> dict[str, Any]:
    bought = curve.next_panel(place)
    year = point.year
    return {
        "panels": point.panels,
        "area_m2": point.area,
        "split": dict(point.split),
        "rpm": point.rpm,
        "bypass_open": point.bypass_open,
        "flow_m3h": point.flow * PER_HOUR,
        "head_m": point.head,
        "power_W": point.power,
        "bounds": list(point.bounds),
        "price": point.price,
        "days_at_target": year.days_at_target,
        "hours_at_target": year.hours_at_target,
        "season_pool_C": year.season_pool,
        "pool_C": list(year.pool),
        "solar_heat_kWh": year.solar_heat / KWH,
        "pump_kWh": year.pump_energy / KWH,
        "pump_added_kWh": year.pump_energy_added / KWH,
        "heater_kWh": year.heater_energy / KWH,
        "next_panel": None
        if bought is None
        else {
            "warmer_K": bought.warmer,
            "days": bought.days,
            "solar_heat_kWh": bought.heat / KWH,
            "price": bought.price,
        },
    }


def wish_of(typed: dict[str, str | None], roofs: Sequence[str]) -> SizeWish:
    """Gather what was typed."""
    return SizeWish(**{name: text or "" for name, text in typed.items()}, roofs=tuple(roofs))
