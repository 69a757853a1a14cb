from __future__ import annotations

import pytest
from tests.planned_jobs import example, planned

from sillwright.drawing.observed import height_at, plotted
from sillwright.survey.model import Station


def station(at: float, value: float) -> Station:
    return Station(at=at, value=value, sd=0.01, measured=True)


def test_between_stations_a_sill_is_straight_and_beyond_them_level() -> None:
    sill = (station(10, 1.0), station(20, 2.0))
    assert [height_at(sill, x) for x in (0, 10, 15, 20, 30)] == [1.0, 1.0, 1.5, 2.0, 2.0]


def test_a_reading_that_fits_lies_on_the_sill_and_one_too_long_lies_below_it() -> None:
    job = example("farmhouse")
    plan = planned(job)
    shapes = {shape.name: shape for shape in plan.survey.openings}
    readings = {reading.id: reading for reading in plan.survey.readings}
    for point in plotted(job, plan):
        shape = shapes[point.opening]
        sill = height_at(shape.sill_outer if point.outer else shape.sill_inner or shape.sill_outer, point.x)
        reading = readings[point.reading]
        # down is taken from the beam: reading more than the wall says puts the sill lower
        assert point.z - sill == pytest.approx(
            reading.adjusted - reading.observed if reading.status == "used" else -1.0
        )


def test_every_laser_reading_of_a_sill_is_plotted() -> None:
    job = example("villa")
    shots = sum(shot.sill is not None for setup in job.setup for shot in setup.series)
    assert len(plotted(job, planned(job))) == shots
