"""A job's money as plain values for JSON."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from noonwater.app.money_study import MoneyStudy
from noonwater.app.parts_words import size_words

if TYPE_CHECKING:
    from noonwater.app.price_list import PriceList
    from noonwater.design.money_against import Against
    from noonwater.design.money_parts import PricedPart, UnpricedPart
    from noonwater.design.parts_row import PartRow

KWH, HOUR = 3.6e6, 3600.0
ESTIMATE = "an estimate, not a guarantee"
NOT_COUNTED = (
    "loans and income tax",
    "charges for the highest power drawn, and electricity of one's own",
    "holidays with weekend prices",
    "longer running of the pump that another heater would ask for, and its limits of power",
)
"""What no figure of money here holds."""


def money_dict(study: MoneyStudy) -> dict[str, Any]:
    """Give a job's money for JSON; amounts in the job's currency."""
    from noonwater.design.money_ranges import LEFT_OUT
    from noonwater.design.money_savings import running_costs

    job, solar, terms = study.job, study.plain.solar, study.job.money.terms
    heat = study.plain.cost_of_heat
    yearly = solar.pump_cost + terms.maintenance
    return {
        "job": job.name,
        "currency": job.money.currency,
        "estimate": ESTIMATE,
        "price": _price(study),
        "price_list": None if study.plain.listed is None else _list(study.plain.listed, study),
        "solar": {
            "heat_kWh": solar.heat / KWH,
            "heat_range_kWh": _scaled(asdict(study.sure.solar_heat), 1.0 / KWH),
            "days_gained": study.plain.days,
            "target_C": job.pool.target,
            "pump_more_kWh": solar.pump_energy / KWH,
            "pump_more_cost": solar.pump_cost,
            "maintenance": terms.maintenance,
            "carbon_kg": solar.carbon,
        },
        "doing_nothing": {
            "yearly_cost_of_solar": yearly,
            "running_costs_through_life": float(running_costs(terms, solar).sum()),
            "net_present_value": study.plain.nothing.net_present_value,
            "payback_discounted_years": study.plain.nothing.payback_discounted,
        },
        "against": [_against(each, terms.life) for each in study.against],
        "cost_of_heat_per_kWh": None if heat is None else heat * KWH,
        "terms": {**asdict(terms), "electricity_carbon": terms.electricity_carbon * KWH},
        "weather": study.year.weather.source,
        "inputs_hash": study.year.inputs_hash,
        "samples": study.sure.samples,
        "not_in_ranges": [text for text in (study.sure.weather_left_out, LEFT_OUT) if text],
        "not_counted": list(NOT_COUNTED),
    }


def _price(study: MoneyStudy) -> dict[str, Any] | None:
    from noonwater.design.money_offer import received

    price = study.plain.price
    if price is None:
        return None
    incentives = received(study.job.money, price.total)
    return {
        "total": price.total,
        "told_whole": price.told,
        "parts": None if price.told else price.parts,
        "labour_hours": None if price.told else price.hours / HOUR,
        "labour": None if price.told else price.labour,
        "overhead": None if price.told else price.overhead,
        "sales_tax": None if price.told else price.tax,
        "complete": study.plain.pricing is None or not study.plain.pricing.unpriced,
        "incentives": [
            {"name": incentive.name, "amount": amount, "year": incentive.year}
            for incentive, amount in incentives
        ],
        "owner_pays": price.total - sum(amount for _, amount in incentives),
    }


def _list(listed: PriceList, study: MoneyStudy) -> dict[str, Any]:
    pricing, schedule = study.plain.pricing, study.job.pad.schedule
    return {
        "source": listed.source,
        "columns": listed.columns,
        "notes": list(listed.notes),
        "rows": len(listed.rows),
        "rows_without_use": 0 if pricing is None else pricing.unused,
        "rows_not_used": [
            {"row": fault.line, "text": fault.text, "why": fault.why} for fault in listed.faults
        ],
        "priced": [] if pricing is None else [_priced(part, schedule) for part in pricing.priced],
        "without_price": []
        if pricing is None
        else [_unpriced(part, schedule) for part in pricing.unpriced],
    }


def part_dict(part: PartRow, schedule: str) -> dict[str, Any]:
    """Name, size and quantity of a part, in SI."""
    return {
        "part": part.name,
        "size": size_words(part, schedule, "SI"),
        "quantity": part.quantity,
        "unit": "each" if part.unit == "each" else "m",
    }


def _priced(found: PricedPart, schedule: str) -> dict[str, Any]:
    part = {"part": found.row.text, "size": "", "quantity": 1.0, "unit": "job"}
    return {
        **(part if found.part is None else part_dict(found.part, schedule)),
        "row": found.row.line,
        "listed_as": found.row.text,
        "packs": found.packs,
        "price": found.row.price,
        "cost": found.cost,
        "labour_hours": found.hours / HOUR,
    }


def _unpriced(found: UnpricedPart, schedule: str) -> dict[str, Any]:
    return {**part_dict(found.part, schedule), "why": found.why, "near": list(found.near)}


def _against(each: Against, life: int) -> dict[str, Any]:
    worth, span = each.worth, each.span
    value = span.net_present_value
    return {
        "kind": each.alternative.kind,
        "own_heater": each.own,
        "efficiency": None if each.own else each.alternative.heat_yield,
        "energy_kWh": each.fuel.energy / KWH,
        "energy_cost": each.fuel.cost,
        "carbon_kg": each.fuel.carbon,
        "saved_first_year": worth.saved,
        "saved_first_year_range": asdict(span.saved),
        "price_at_most": worth.price_at_most,
        "net_present_value": worth.net_present_value,
        "net_present_value_range": None if value is None else asdict(value),
        "rate_of_return": worth.rate_of_return,
        "payback_simple_years": worth.payback_simple,
        "payback_discounted_years": worth.payback_discounted,
        "payback_discounted_low_years": span.payback_low,
        "payback_discounted_high_years": span.payback_high,
        "carbon_saved_kg": worth.carbon,
        "carbon_saved_life_kg": worth.carbon * life,
        "flows": list(worth.flows),
    }


def _scaled(values: dict[str, float], scale: float) -> dict[str, float]:
    return {key: value * scale for key, value in values.items()}
