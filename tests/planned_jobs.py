"""Jobs to look at on pages and drawings: the examples, long walls of like windows, and one that conflicts."""

from __future__ import annotations

from pathlib import Path

from tests.setting.walls import Hole, job_of

from sillwright.job import Job, load_job, read_job
from sillwright.plan import Plan, plan


def long_job(
    openings: int, *, title: str = "Long wall of like windows, invented", metric: bool = False
) -> Job:
    """Return a job with a row of so many like openings, invented."""
    scale = 25.4 if metric else 1.0
    lines = [
        "sillwright = 1",
        f'units = "{"mm" if metric else "in"}"',
        f'title = "{title}"',
        "invented = true",
    ]
    shims = "[1, 2, 3, 5, 10]" if metric else '["1/32", "1/16", "1/8", "1/4"]'
    lines += ["[kit]", f"shims = {shims}", f"shim_width = {1.5 * scale}", f"planing_max = {0.25 * scale}"]
    names = ", ".join(f'"W{n + 1}"' for n in range(openings))
    lines += ["[[row]]", f"openings = [{names}]", "[[mark]]", 'name = "M1"', "x = 0"]
    lines += ["[[setup]]", 'name = "only one"', "x = 0", "series = [", '  { mark = "M1", down = 30 },']
    for n in range(openings):
        for k in range(3):
            x = (20.0 + 48 * n + 15 * k) * scale
            lines.append(f'  {{ sill = "W{n + 1}", x = {x}, down = {(26 + 0.06 * ((n + k) % 5)) * scale} }},')
    lines.append("]")
    for n in range(openings):
        lines += ["[[opening]]", f'name = "W{n + 1}"', f"left_jack_x = {(18.0 + 48 * n) * scale}"]
        lines += [f"width = {{ middle = {34 * scale} }}", f"height = {{ centre = {50 * scale} }}"]
        lines += ["[[unit]]", f'opening = "W{n + 1}"', 'kind = "fixed"', f"frame_width = {33.25 * scale}"]
        lines += [f"frame_height = {49.25 * scale}", f"least_side_clearance = {0.25 * scale}"]
        lines += [f"least_head_clearance = {0.25 * scale}", f"largest_out_of_plane = {0.125 * scale}"]
    return read_job("\n".join(lines))


def example(name: str) -> Job:
    """Return an example job by the start of its file's name."""
    (path,) = (Path(__file__).parents[1] / "examples").glob(f"{name}*.toml")
    return load_job(path).job


def planned(job: Job) -> Plan:
    """Return the plan of a job."""
    return plan(job)


def conflicting() -> Job:
    """Return a job whose row has no line: one sill is too high for the other's head, invented."""
    high = Hole(name="A", left=10.0, sill=(1.5, 1.5, 1.5), head=50.0)
    return job_of(high, Hole(name="B", left=60.0, head=48.0))


def trimmed() -> Job:
    """Return a job with a jack to be cut back and a pad that was shot again 1/8 low, invented."""
    hole, kit = Hole(name="A", left=10.0, width=36.0, sill=(0.0, -0.1875, 0.0)), {"trim_max": 0.375}
    before = planned(job_of(hole, kit=dict(kit))).setting
    down = 41.0 - before.rows[0].lines[0].z + 0.125
    series = [{"mark": "M1", "down": 41.0}, {"pad": before.pads[0].number, "edge": "outer", "down": down}]
    return job_of(
        hole,
        kit=dict(kit),
        reading_sd={"laser": 0.01},
        reshoot=[{"name": "after", "x": 20.0, "series": series}],
    )
