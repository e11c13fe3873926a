"""A job's nights as plain values, each key with its unit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.year.night import HoursRange, NightResult, PlaneNights
    from noonwater.year.night_dates import DateRow, Span
    from noonwater.year.night_rows import Course, Moment, NightMonth
    from noonwater.year.night_trip import Trip

DAYS = 365


def night_dict(job: Job, nights: NightResult, stands: str) -> dict[str, Any]:
    """Give a job's nights for JSON; `stands` is the field that keeps its array full, or ''."""
    risk, chosen = nights.risk, nights.risk.chosen
    dry, wet = nights.hours_dry, nights.hours_wet
    return {
        "job": job.name,
        "array_drains": not stands,
        "water_stands_by": stands or None,
        "drain_by": _day(chosen.cautious, "first"),
        "reopen_after": _day(chosen.cautious, "last"),
        "freezes": chosen.cautious is not None,
        "risk": {
            "known": risk.known,
            "source": risk.source,
            "method": risk.method,
            "return_period_years": chosen.return_years,
            "dates": [_row(row) for row in risk.rows],
        },
        "months": [_month(month) for month in nights.months],
        "freezing_above_zero": {
            **_hours(dry),
            "worst": _moment(nights.worst_dry),
            "full_panels": {**_hours(wet), "worst": _moment(nights.worst_wet)},
        },
        "freezing_course": _course(nights.course),
        "nights_at_risk": int(nights.table.at_risk.sum()),
        "nights_with_ice": int((nights.table.ice > 0.0).sum()),
        "nights": _nights(nights),
        "planes": [_plane(plane) for plane in nights.planes],
        "freeze_trips": [_trip(trip) for trip in nights.trips],
        "weather": nights.weather.source,
    }


def _day(span: Span | None, end: str) -> str | None:
    from noonwater.design.night import day_text

    return None if span is None else day_text(getattr(span, end))


def _row(row: DateRow) -> dict[str, Any]:
    return {
        "return_period_years": row.return_years,
        "air_shift_K": row.shift,
        "drain_by": _day(row.cautious, "first"),
        "reopen_after": _day(row.cautious, "last"),
        "drain_by_middle": _day(row.middle, "first"),
        "reopen_after_middle": _day(row.middle, "last"),
    }


def _month(month: NightMonth) -> dict[str, Any]:
    return {
        "month": month.month,
        "air_lowest_C": month.air,
        "dry_panel_lowest_C": month.dry,
        "full_panel_lowest_C": month.wet,
        "pipe_lowest_C": month.pipe,
        "nights_at_risk": month.nights_at_risk,
        "nights_with_ice": month.nights_with_ice,
        "hours_at_risk": month.hours_at_risk,
        "dry_below_freezing_in_air_above_hours": month.hours_dry,
        "full_freezing_in_air_above_hours": month.hours_wet,
        "ice_mm": 1000.0 * month.ice_thickness,
        "frozen_water_L": 1000.0 * month.ice_volume,
    }


def _hours(hours: HoursRange) -> dict[str, Any]:
    return {"hours": hours.middle, "hours_range": [hours.low, hours.high]}


def _moment(moment: Moment | None) -> dict[str, Any] | None:
    from noonwater.design.night import day_text

    if moment is None:
        return None
    evening = day_text(moment.night)
    return {
        "month": int(evening[:2]),
        "evening": evening,
        "clock": clock(moment.hour),
        "where": moment.where,
        "air_C": moment.temp_air,
        "panel_C": moment.temp,
        "sky_C": moment.temp_sky,
        "ice_formed_mm": 1000.0 * moment.ice_thickness,
    }


def _course(course: Course | None) -> dict[str, Any] | None:
    from noonwater.design.night import day_text

    if course is None:
        return None
    return {
        "evening": day_text(course.night),
        "where": course.where,
        "first_ice": clock(course.first_ice),
        "from_4_C_to_ice_hours": None if course.cooling is None else course.cooling / 3600.0,
        "from_ice_to_solid_hours": None if course.solid is None else course.solid / 3600.0,
        "ice_share": course.share,
    }


def _nights(nights: NightResult) -> list[dict[str, Any]]:
    """Nights in which anything freezes, full or dry."""
    from noonwater.design.night import day_text

    table = nights.table
    return [
        {
            "evening": day_text(day),
            "air_lowest_C": table.air[day],
            "dry_panel_lowest_C": table.dry[day],
            "full_panel_lowest_C": table.wet[day],
            "pipe_lowest_C": table.pipe[day],
            "ice_share": table.ice[day],
            "ice_share_pipe": table.ice_pipe[day],
            "at_risk": bool(table.at_risk[day]),
            "dry_below_freezing_in_air_above_hours": table.hours_dry[day],
        }
        for day in range(DAYS)
        if table.dry[day] < 0.0 or table.ice[day] > 0.0 or table.ice_pipe[day] > 0.0
    ]


def _plane(plane: PlaneNights) -> dict[str, Any]:
    body = plane.body
    return {
        "name": body.name,
        "roof": body.roof or None,
        "panel": body.panel or None,
        "taken_as": body.bearing.word,
        "bears_ice_share": body.bearing.share,
        "water_kg_m2": body.mass,
        "dry_lowest_C": plane.dry if body.panel else None,
        "full_lowest_C": plane.wet,
        "ice_share": plane.ice_share,
    }


def _trip(trip: Trip) -> dict[str, Any]:
    from noonwater.design.night import day_text

    return {
        "watches": trip.watch,
        "trip_C": trip.temp,
        "nights_acted": trip.nights_acted,
        "nights_missed": int(trip.missed.sum()),
        "nights_missed_at_worst": trip.missed_most,
        "missed_evenings": [day_text(int(day)) for day in trip.missed.nonzero()[0]],
        "nights_in_vain": int(trip.in_vain.sum()),
        "trip_needed_C": trip.needed,
    }


def clock(hour: float) -> str:
    """Hour of the day as HH:MM."""
    minutes = round(hour * 60.0) % (24 * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"
