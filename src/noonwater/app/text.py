"""Answers as plain text: findings first, tables that line up, one folded line on sources."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from noonwater.core.finding import Finding

WIDTH = 100
MONTH_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def table(heads: Sequence[Sequence[str]], rows: Sequence[Sequence[str]]) -> list[str]:
    """Line up a table: first column to the left, the others to the right.

    Parameters
    ----------
    heads : sequence of head rows
        Several, for heads of several lines.
    rows : sequence of rows
        Cells as text.
    """
    widths = [max(len(row[column]) for row in (*heads, *rows)) for column in range(len(heads[0]))]

    def line(row: Sequence[str]) -> str:
        cells = [row[0].ljust(widths[0])]
        cells += [cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True)]
        return "  ".join(cells).rstrip()

    rule = "  ".join("-" * width for width in widths)
    return [*(line(head) for head in heads), rule.rstrip(), *(line(row) for row in rows)]


def marked(lines: Sequence[str], marks: Sequence[str]) -> list[str]:
    """Write marks beside the last rows of a table, one below the other.

    Parameters
    ----------
    lines : sequence of str
        Of `table`.
    marks : sequence of str
        One for each of its rows; "" for none.
    """
    first, width = len(lines) - len(marks), max(len(line) for line in lines)
    rows = (f"{line:<{width}}  {mark}" for line, mark in zip(lines[first:], marks, strict=True))
    return [*lines[:first], *(row.rstrip() for row in rows)]


def finding_lines(findings: Sequence[Finding], *, whole: bool = False) -> list[str]:
    """Tell findings, the faults first, each with its field and what to do.

    Parameters
    ----------
    findings : sequence of Finding
        What was found.
    whole : bool
        Whether all was looked for that can be wrong; an answer about a part says that it was not.
    """
    if not findings:
        more = "" if whole else " here; noonwater check looks at the whole design"
        return [f"Nothing to mend was found{more}."]
    lines = [f"To do ({len(findings)})"]
    for number, finding in enumerate(findings, start=1):
        head = f"{number:2d}. {finding.severity.upper() if finding.severity == 'fault' else ''}"
        lines += wrapped(f"{head.rstrip()} {finding.text}", "    ")
        lines += wrapped(
            f"    at {finding.where}: {finding.value}, allowed {finding.limit}", "    "
        )
        lines += wrapped(f"    do: {finding.remedy}", "        ")
    return lines


def below_findings(findings: Sequence[Finding], lines: Sequence[str]) -> list[str]:
    """Put what is to be done above an answer; nothing where nothing is."""
    return [*finding_lines(findings), "", *lines] if findings else list(lines)


def folded(label: str, parts: Sequence[str]) -> str:
    """One line that says where values come from."""
    return f"{label}: " + "; ".join(part for part in parts if part)


def number(value: float, digits: int = 0) -> str:
    """Print a number; never '-0'."""
    text = f"{value:,.{digits}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.,") else text


def wrapped(text: str, indent: str) -> list[str]:
    """Break a text into lines of the page's width; further lines are indented."""
    return textwrap.wrap(text, WIDTH, subsequent_indent=indent, break_long_words=False)
