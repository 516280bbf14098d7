"""Water and steam by the independent library iapws, for compare_test.go.

Reads lines "region a b" from the first file and writes one line of numbers for
each to the second: v, h, u, s, cp, w in regions 1 and 2 (a is p in MPa, b is T
in K); p and the same in region 3 (a is the density in kg/m3, b is T); the
saturation pressure at a K and temperature at b MPa in region 4.
"""
import sys

try:
    from iapws.iapws97 import _PSat_T, _Region1, _Region2, _Region3, _TSat_P
except ImportError:
    sys.exit(3)


def properties(x, p):
    return [x["v"], x["h"], x["h"] - p * x["v"] * 1e3, x["s"], x["cp"], x["w"]]


def line(region, a, b):
    if region == "1":
        return properties(_Region1(b, a), a)
    if region == "2":
        return properties(_Region2(b, a), a)
    if region == "3":
        x = _Region3(a, b)
        return [x["P"]] + properties(x, x["P"])
    return [_PSat_T(a), _TSat_P(b)]


with open(sys.argv[1]) as points, open(sys.argv[2], "w") as out:
    for text in points:
        region, a, b = text.split()
        print(*map(repr, line(region, float(a), float(b))), file=out)
