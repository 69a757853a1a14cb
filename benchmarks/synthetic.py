"""Invented openings with seeded readings, for measuring speed and for tests."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sillwright.survey.like import LikeOpenings, LikeSds

SDS = LikeSds(
    running_sd=1 / 16, width_sd=1 / 32, lean_sd=1 / 16, height_sd=1 / 32, laser_sd=1 / 24, diagonal_sd=1 / 16
)
NEAR = 2.0

Array = NDArray[np.float64]


def seeded_openings(count: int, *, seed: int) -> LikeOpenings:
    """Return `count` invented openings, 30 to 96 in wide, bowed, leaning and sagging, read with noise."""
    rng = np.random.default_rng(seed)
    width, height = rng.uniform(30, 96, count), rng.uniform(30, 84, count)
    left = rng.uniform(0, 400, count)[:, None] + rng.normal(0, 0.15, (count, 3))
    right = left[:, :1] + width[:, None] + rng.normal(0, 0.15, (count, 3))
    sill = rng.uniform(-10, 30, count)[:, None] + rng.normal(0, 0.15, (count, 3))
    head = sill[:, :1] + height[:, None] + rng.normal(0, 0.15, (count, 3))
    exact = _exact_readings(left, right, sill, head, rng.uniform(40, 70, (2, count)), (width, height))
    sds = np.array([*[SDS.running_sd] * 2, *[SDS.width_sd] * 3, *[SDS.lean_sd] * 2, *[SDS.height_sd] * 3])
    sds = np.concatenate((sds, [SDS.laser_sd] * 14, [SDS.diagonal_sd] * 2))
    return LikeOpenings(
        readings=exact + rng.normal(0, 1, exact.shape) * sds, width=width, height=height, near=NEAR, sds=SDS
    )


def _exact_readings(
    left: Array, right: Array, sill: Array, head: Array, beams: Array, size: tuple[Array, Array]
) -> Array:
    linear = [left[:, :1], right[:, :1], right - left, left[:, 2:] - left[:, :1], right[:, 2:] - right[:, :1]]
    linear.append(head - sill)
    for beam in beams:
        linear += [beam[:, None], beam[:, None] - sill, beam[:, None] - head]
    x_left, x_right = _ends(left, size[1]), _ends(right, size[1])
    z_sill, z_head = _ends(sill, size[0]), _ends(head, size[0])
    rising = np.hypot(x_right[1] - x_left[0], z_head[1] - z_sill[0])
    falling = np.hypot(x_right[0] - x_left[1], z_head[0] - z_sill[1])
    return np.column_stack((*linear, rising, falling))


def _ends(edge: Array, size: Array) -> tuple[Array, Array]:
    """Return the two ends of an edge, on the straight through its two nearest places."""
    share = NEAR / (size / 2 - NEAR)
    first, middle, last = edge.T
    return first + share * (first - middle), last + share * (last - middle)
