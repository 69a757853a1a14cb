"""The uncertainty budget of a 50 mm end gauge, JCGM 100:2008 (GUM), Annex H.1."""

from __future__ import annotations

import math
from typing import Any

from scipy.special import stdtrit
from tests.published.checks import read

from sillwright.survey.statistics import combine, rounding_sd, welch_satterthwaite


def end_gauge() -> dict[str, Any]:
    """Return the budget by the model l = ls + d - ls (d_alpha theta + alpha_s d_theta) [nm]."""
    given = {row["name"].split(" (")[0]: row for row in read("gum-h1-end-gauge")["inputs"]}
    ls, theta, alpha_s = (given[name]["value"] for name in ("ls", "theta mean", "alpha_s"))
    # a half-width a is the half graduation of a rectangular distribution: u = a / sqrt(3)
    u_of = {
        name: rounding_sd(2.0 * given[name]["uniform_half_width"])
        for name in ("alpha_s", "d_alpha", "d_theta")
    }
    component = {name: given[name]["u"] for name in ("ls", "d0", "d1", "d2")}
    component["d_theta"] = ls * alpha_s * u_of["d_theta"]
    component["d_alpha"] = ls * abs(theta) * u_of["d_alpha"]
    u_theta = combine(given["theta mean"]["u"], given["theta cyclic"]["arcsine_half_width"] / math.sqrt(2.0))
    second = ls * combine(u_of["d_alpha"] * u_theta, u_of["alpha_s"] * u_of["d_theta"])
    uc = combine(*component.values())
    nu = welch_satterthwaite(list(component.values()), [given[name]["dof"] for name in component])
    k99 = float(stdtrit(math.floor(nu), 0.995))
    return component | {
        "l_nm": ls + given["d0"]["value"],
        "uc_nm": uc,
        "u_d_nm": combine(component["d0"], component["d1"], component["d2"]),
        "uc_with_second_order_nm": combine(uc, second),
        "second_order_term_nm": second,
        "nu_eff": nu,
        "nu_eff cut": math.floor(nu),
        "k99": k99,
        "U99_nm": k99 * round(uc),
    }
