"""Pictures for tests: PNG of eight bits a channel as grey, without a library for it."""

from __future__ import annotations

import struct
import zlib

import numpy as np
from numpy.typing import NDArray

Grey = NDArray[np.float64]
Bytes = NDArray[np.uint8]

SIGNATURE = b"\x89PNG\r\n\x1a\n"
CHANNELS = {0: 1, 2: 3, 4: 2, 6: 4}


def grey(png: bytes) -> Grey:
    """Read a picture as grey, 0 black to 1 white; the PNG specification (W3C, third edition)."""
    assert png.startswith(SIGNATURE)
    place, data, head = len(SIGNATURE), b"", b""
    while place < len(png):
        (length,) = struct.unpack(">I", png[place : place + 4])
        kind, body = png[place + 4 : place + 8], png[place + 8 : place + 8 + length]
        head = body if kind == b"IHDR" else head
        data += body if kind == b"IDAT" else b""
        place += 12 + length
    width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", head)
    assert (depth, interlaced) == (8, 0)
    channels = CHANNELS[colour]
    rows = np.frombuffer(zlib.decompress(data), np.uint8).reshape(height, 1 + width * channels)
    picture = _unfiltered(rows, channels).reshape(height, width, channels).astype(np.float64)
    shades = picture[:, :, :3] if channels >= 3 else picture[:, :, :1]
    return np.asarray(shades.mean(axis=2) / 255.0)


def _unfiltered(rows: Bytes, channels: int) -> Bytes:
    done = np.zeros((len(rows), rows.shape[1] - 1), np.uint8)
    above = np.zeros(rows.shape[1] - 1, np.uint8)
    for number, row in enumerate(rows):
        above = done[number] = _row(int(row[0]), row[1:], above, channels)
    return done


def _row(kind: int, row: Bytes, above: Bytes, channels: int) -> Bytes:
    if kind == 0:
        return row
    if kind == 2:
        return row + above
    if kind == 1:
        return np.cumsum(row.reshape(-1, channels), axis=0, dtype=np.uint8).reshape(-1)
    left, corner, made = [0] * channels, [0] * channels, []
    for place, (value, over) in enumerate(zip(row.tolist(), above.tolist(), strict=True)):
        channel = place % channels
        beside = left[channel]
        guess = (beside + over) // 2 if kind == 3 else _paeth(beside, over, corner[channel])
        left[channel], corner[channel] = (value + guess) % 256, over
        made.append(left[channel])
    return np.array(made, np.uint8)


def _paeth(left: int, above: int, corner: int) -> int:
    guess = left + above - corner
    return min((left, above, corner), key=lambda each: abs(guess - each))


def in_blocks(picture: Grey, size: int) -> Grey:
    """Mean of each square block; what is left over at the edges is dropped."""
    rows, columns = (length // size for length in picture.shape)
    cut = picture[: rows * size, : columns * size]
    return np.asarray(cut.reshape(rows, size, columns, size).mean(axis=(1, 3)))
