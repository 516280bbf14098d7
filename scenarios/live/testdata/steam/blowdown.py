"""Blowdown of a drum of water and steam through a line, a valve body with a
metal wall, and a seat held open: an independent solution.

Reads a JSON object from standard input (keys as in Bench.rates) in SI units, and
writes drum and body pressure at the times asked for. Properties are those of
python3-iapws (IAPWS-IF97); the integration is LSODA of SciPy; the flow through
an opening is the largest mass flux of a homogeneous isentropic expansion in
equilibrium, found by a bounded search.
"""

import json
import math
import sys

import numpy as np
from iapws.iapws97 import _Backward2_T_Ps, _Region1, _Region2, _TSat_P
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq, minimize_scalar


def exact_saturation(p):
    """T, v', v'', h', h'', s', s'' at p, Pa, by IF97 itself; SI."""
    t = _TSat_P(p * 1e-6)
    a, b = _Region1(t, p * 1e-6), _Region2(t, p * 1e-6)
    return np.array([t, a["v"], b["v"], a["h"] * 1e3, b["h"] * 1e3, a["s"] * 1e3, b["s"] * 1e3])


class Saturation:
    """A spline in ln p through exact values, checked between its nodes."""

    def __init__(self, low, high, n=1200):
        x = np.linspace(math.log(low), math.log(high), n)
        y = np.array([exact_saturation(math.exp(q)) for q in x])
        self.spline = CubicSpline(x, y)
        self.worst = max(
            float(np.max(np.abs(self(math.exp(q)) / exact_saturation(math.exp(q)) - 1)))
            for q in (x[:-1:37] + x[1::37]) / 2)

    def __call__(self, p):
        return self.spline(math.log(p))


SAT = None  # made in main
LOW, HIGH = 1.0e5, 60.0e5


class State:
    """One equilibrium state: p, t, v, h, s; x is the quality, 1 if superheated."""

    __slots__ = ("p", "t", "v", "h", "s", "x", "liquid")

    def __init__(self, p, t, v, h, s, x, liquid):
        self.p, self.t, self.v, self.h, self.s, self.x, self.liquid = p, t, v, h, s, x, liquid


def wet(p, x, sat):
    t, vf, vg, hf, hg, sf, sg = sat
    return State(p, t, vf + x * (vg - vf), hf + x * (hg - hf), sf + x * (sg - sf), x, (1 - x) * vf)


def dry(p, t):
    r = _Region2(t, p * 1e-6)
    return State(p, t, r["v"], r["h"] * 1e3, r["s"] * 1e3, 1.0, 0.0)


def from_ps(p, s):
    sat = SAT(p)
    x = (s - sat[5]) / (sat[6] - sat[5])
    if x <= 1:
        return wet(p, x, sat)
    t = max(_Backward2_T_Ps(p * 1e-6, s * 1e-3), sat[0])
    for _ in range(4):
        r = _Region2(t, p * 1e-6)
        t -= (r["s"] * 1e3 - s) * t / (r["cp"] * 1e3)
    return dry(p, t)


def from_ph(p, h):
    sat = SAT(p)
    x = (h - sat[3]) / (sat[4] - sat[3])
    if x <= 1:
        return wet(p, x, sat)
    t = sat[0]
    for _ in range(6):
        r = _Region2(t, p * 1e-6)
        t -= (r["h"] * 1e3 - h) / (r["cp"] * 1e3)
    return dry(p, t)


def from_vu(v, u):
    """The equilibrium state of a volume."""

    def off_wet(p):
        _, vf, vg, hf, hg, _, _ = SAT(p)
        x = (v - vf) / (vg - vf)
        return (hf - p * vf) + x * ((hg - p * vg) - (hf - p * vf)) - u

    p = brentq(off_wet, LOW, HIGH, xtol=1e-7, rtol=1e-14)
    sat = SAT(p)
    x = (v - sat[1]) / (sat[2] - sat[1])
    if x <= 1:
        return wet(p, x, sat)

    # Superheated: at each pressure the temperature that gives v; then u.
    def at(p):
        t = max(SAT(p)[0], p * v / 461.526)
        for _ in range(12):
            r = _Region2(t, p * 1e-6)
            step = (r["v"] - v) / (r["v"] * r["alfav"])
            t -= step
            if abs(step) < 1e-11 * t:
                break
        return dry(p, t)

    def off_dry(p):
        q = at(p)
        return q.h - p * q.v - u

    return at(brentq(off_dry, 0.5 * p, min(1.05 * p, HIGH), xtol=1e-7, rtol=1e-13))


def flux(up, p_down):
    """The mass flux from rest at up to p_down, and the pressure in the throat."""

    def at(p):
        q = from_ps(p, up.s)
        return math.sqrt(2 * max(up.h - q.h, 0.0)) / q.v

    low = max(p_down, 0.35 * up.p)
    best = minimize_scalar(lambda p: -at(p), bounds=(low, up.p), method="bounded", options={"xatol": 2e-6 * up.p})
    here = at(low)
    if here >= -best.fun:
        return here, low
    return -best.fun, best.x


def seat_flux(body, curtain, bore, p_out):
    """Flux in the bore, the face pressure and the bore's throat pressure."""

    def off(p):
        return curtain / bore * flux(body, p)[0] - flux(from_ph(p, body.h), p_out)[0]

    face = brentq(off, 0.6 * body.p, body.p * (1 - 1e-9), xtol=1e-6, rtol=1e-13)
    g, throat = flux(from_ph(face, body.h), p_out)
    return g, face, throat


class Bench:
    def __init__(self, d):
        self.d = d
        drum, body = d["drum"], d["body"]
        self.scale = np.array([drum["mass"], drum["mass"] * 1e6, 500.0, body["mass"], body["mass"] * 1e6, 500.0])
        self.start = np.array([drum["mass"], drum["energy"], drum["wall"]["start"],
                               body["mass"], body["energy"], body["wall"]["start"]]) / self.scale
        self.calls, self.driest, self.bled, self.loosest, self.first = 0, [math.inf, -math.inf], 0, math.inf, None

    def rates(self, _, y):
        self.calls += 1
        d = self.d
        md, ud, twd, mb, ub, twb = y * self.scale
        drum = from_vu(d["drum"]["volume"] / md, ud / md)
        body = from_vu(d["body"]["volume"] / mb, ub / mb)
        sat = SAT(drum.p)
        steam = wet(drum.p, 1.0, sat)
        air = d["ambient"]

        line = d["line"]["coefficient"] * d["line"]["area"] * flux(steam, body.p)[0]
        st = d["seat"]
        bore = math.pi / 4 * st["diameter"] ** 2
        g, face, throat = seat_flux(body, math.pi * st["diameter"] * st["lift"], bore, st["outlet"])
        seat = st["coefficient"] * bore * g
        bleed = d["bleed"]["coefficient"] * d["bleed"]["area"] * flux(body, 0.0)[0]
        if self.first is None:
            self.first = line, seat, face
        self.loosest = min(self.loosest, throat / st["outlet"])
        over = body.t - SAT(body.p)[0] if body.x >= 1 else 0
        self.driest = [min(self.driest[0], body.x), max(self.driest[1], over)]
        self.bled = max(self.bled, bleed / seat)

        w = d["drum"]["wall"]
        q_drum = (w["inside"] + w["wet"]) * (drum.t - twd)
        out_drum = w["outside"] * (twd - air)
        w = d["body"]["wall"]
        q_body = (w["inside"] + w["driven"] * (abs(line) / w["at-flow"]) ** 0.8) * (body.t - twb)
        condensing = min(body.t, SAT(body.p)[0])
        if condensing > twb:
            q_body += w["wet"] * (condensing - twb)
        else:
            q_body += w["wet"] * (condensing - twb) * (1 - math.exp(-mb * body.liquid / w["covering-volume"]))
        out_body = w["outside"] * (twb - air)

        return np.array([
            -line,
            d["power"] - line * steam.h - q_drum,
            (q_drum - out_drum) / d["drum"]["wall"]["heat-capacity"],
            line - seat - bleed,
            line * steam.h - (seat + bleed) * body.h - q_body,
            (q_body - out_body) / d["body"]["wall"]["heat-capacity"],
        ]) / self.scale


def main():
    global SAT
    SAT = Saturation(LOW, HIGH)
    d = json.load(sys.stdin)
    b = Bench(d)
    times = np.array(d["times"])
    run = solve_ivp(b.rates, (0, times[-1]), b.start, method="LSODA", t_eval=times, rtol=d["rtol"], atol=d["rtol"] * 1e-2)
    if not run.success:
        sys.exit(run.message)
    y = run.y.T * b.scale
    states = [(from_vu(d["drum"]["volume"] / q[0], q[1] / q[0]), from_vu(d["body"]["volume"] / q[3], q[4] / q[3])) for q in y]
    json.dump({
        "drum": [s[0].p for s in states],
        "body": [s[1].p for s in states],
        "mass": [q[0] for q in y],
        "body-wall": [q[5] for q in y],
        "quality": [s[1].x for s in states],
        "calls": b.calls,
        "spline": SAT.worst,
        "throat-to-outlet": b.loosest,
        "lowest-quality": b.driest[0],
        "superheat": b.driest[1],
        "bleed-to-seat": b.bled,
        "line": b.first[0],
        "seat": b.first[1],
        "face": b.first[2],
    }, sys.stdout)


main()
