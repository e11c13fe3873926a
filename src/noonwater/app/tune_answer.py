"""Which speed or valve setting, and which pipe, as JSON, as text and as a chart."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater import __version__
from noonwater.app.job_file import read_job
from noonwater.app.priced import prices_of, refuse_currency
from noonwater.app.study import flows_by_period, solve_flow, surroundings_of
from noonwater.app.text import below_findings
from noonwater.app.tune_words import tune_lines
from noonwater.app.weather import weather_of
from noonwater.core import jit
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.core.progress import Told, untold
from noonwater.core.quantity import Quantity
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import System, read_quantity
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.tune import PerHour, Stretch, TuneStudy, YearOf
    from noonwater.design.tune_choice import Choice
    from noonwater.design.tune_pipe import PipeChoice
    from noonwater.design.tune_setting import Setting

KWH = 3.6e6
PER_HOUR = 3600.0


@dataclass(frozen=True, eq=False)
class TuneAnswer:
    """Settings of a job's solar flow, weighed."""

    job: Job
    study: TuneStudy
    pipes: tuple[PipeChoice, ...]
    sources: tuple[str, ...]
    findings: tuple[Finding, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """Give settings, choice, seasons, tariff periods and years for JSON."""
        from noonwater.design.tune_pipe import pipe_reason

        study = self.study
        return {
            "job": self.job.name,
            "currency": self.job.money.currency,
            "handle": study.handle,
            "heat_valued_at": study.worth.words,
            "own": study.settings[study.own].value,
            **_choice_dict(study, study.choice),
            "speeds_needed_rpm": asdict(study.least),
            "settings": [
                _setting_dict(setting, each)
                for setting, each in zip(study.settings, study.per_hour, strict=True)
            ],
            "seasons": [_stretch_dict(study, stretch) for stretch in study.seasons],
            "tariff_periods": [_stretch_dict(study, stretch) for stretch in study.periods],
            "years": [_year_dict(year) for year in study.years],
            "pipe_reason": pipe_reason(study.job, self.pipes),
            "pipes": [_pipe_dict(choice) for choice in self.pipes],
            "sources": list(self.sources),
        }

    def lines(self, system: System) -> list[str]:
        """Tell the reason, the settings, seasons and tariff periods, the years."""
        lines = tune_lines(self.study, self.pipes, self.sources, system)
        return below_findings(self.findings, lines)

    def chart(self, narrow: bool = False) -> str:
        """Draw the settings as SVG, for the desk or for a telephone."""
        from noonwater.drawing.sheet import DESK, POCKET
        from noonwater.drawing.tune_chart import tune_chart

        form = POCKET if narrow else DESK
        return tune_chart(self.study, units=self.job.units, version=__version__, form=form)

    def write(self, folder: Path) -> list[Path]:
        """Write the settings as an SVG chart; return what was written.

        Raises
        ------
        InputError
            When the folder can't be written to.
        """
        picture = folder / "tune.svg"
        chart = self.chart()
        try:
            folder.mkdir(parents=True, exist_ok=True)
            picture.write_text(chart, encoding="utf-8")
        except OSError as error:
            fault = Fault("--out", f"'{folder}'", "a folder that can be written to", str(error))
            raise InputError([fault]) from None
        return [picture]


def answer_tune(
    path: Path | str,
    heat_price: str = "",
    prices: Path | str | None = None,
    told: Told = untold,
) -> TuneAnswer:
    """Answer at which speed, or with which valve setting, solar pays best.

    Parameters
    ----------
    path : Path or str
        A job file.
    heat_price : str
        Price of the heat that solar displaces, with its unit; "" as in the job.
    prices : Path or str, optional
        A price list that counts instead of the job's.
    told : callable, optional
        Is told how far it is.

    Returns
    -------
    TuneAnswer

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job or the price; NotConverged where there is no answer.
    """
    from noonwater.design.tune import tune
    from noonwater.design.tune_pipe import pipe_choices
    from noonwater.hydraulics.speeds import with_speeds

    heat = _read_price(heat_price)
    job = read_job(path)
    refuse_currency(job, "--heat-price", heat_price)
    job = with_speeds(job, job.pool.target)
    targets = solve_flow(job).targets
    listed = prices_of(job, Path(path).parent, prices)
    around = surroundings_of(job)
    study = tune(job, around, flows_by_period, targets, heat, told=told)
    chosen = study.settings[study.choice.chosen].job
    pipes = pipe_choices(chosen, around, flows_by_period, listed.rows, listed.factor, told=told)
    jit.note_engine_compiled()
    weather = weather_of(job).provenance
    sources = (f"weather {weather.source}", weather.uncertainty)
    return TuneAnswer(job, study, pipes, sources, listed.findings)


def _read_price(text: str) -> float | None:
    if not text:
        return None
    try:
        return read_quantity(text, Quantity("energy price", "heat that solar displaces", 0, 1e-5))
    except QuantityError as error:
        fault = Fault("--heat-price", error.given, error.allowed, error.remedy)
        raise InputError([fault]) from None


def _choice_dict(study: TuneStudy, choice: Choice) -> dict[str, Any]:
    best = choice.pays_best
    return {
        "chosen": study.settings[choice.chosen].value,
        "pays_best": None if best is None else study.settings[best].value,
        "binds": choice.binds,
        "lost_per_hour": choice.lost * PER_HOUR,
        "reason": choice.reason,
    }


def _per_hour_dict(each: PerHour) -> dict[str, Any]:
    return {
        "heat_kW": each.heat / 1e3,
        "power_W": each.power,
        "power_added_W": each.power_added,
        "net_per_hour": None if each.net is None else each.net * PER_HOUR,
    }


def _setting_dict(setting: Setting, each: PerHour) -> dict[str, Any]:
    state = setting.state
    return {
        "value": setting.value,
        "rpm": state.rpm,
        "array_flow_m3h": state.array_flow * PER_HOUR,
        "breaker": state.breaker,
        "primes": state.primes,
        "bounds": [asdict(bound) for bound in setting.bounds],
        **_per_hour_dict(each),
    }


def _stretch_dict(study: TuneStudy, stretch: Stretch) -> dict[str, Any]:
    return {
        "months": list(stretch.months),
        "price_per_kWh": None if stretch.price is None else stretch.price * KWH,
        "solar_hours": stretch.hours,
        **_choice_dict(study, stretch.choice),
        "at_chosen": _per_hour_dict(stretch.chosen),
        "at_own": _per_hour_dict(stretch.own),
    }


def _year_dict(year: YearOf) -> dict[str, Any]:
    return {
        "value": year.value,
        "days_at_target": year.year.days_at_target,
        "season_pool_C": year.year.season_pool,
        "solar_heat_kWh": year.year.solar_heat / KWH,
        "pump_kWh": year.year.pump_energy / KWH,
        "pump_cost": year.cost,
        "heat_worth": year.worth,
    }


def _pipe_dict(choice: PipeChoice) -> dict[str, Any]:
    return {
        "name": choice.name,
        "nominal_m": choice.nominal,
        "own": choice.own,
        "rpm": choice.rpm,
        "power_W": choice.power,
        "velocity_m_s": choice.velocity,
        "bounds": list(choice.bounds),
        "price": choice.price.total,
        "share_of_parts_from_memory": choice.price.from_memory,
        "pump_kWh": choice.energy / KWH,
        "pump_cost": choice.cost,
        "life_cost": choice.life_cost,
    }
