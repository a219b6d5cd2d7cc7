"""Writes tests/reference/values/fisher-conditional.json: conditional maximum-likelihood odds ratios of 2 x 2 tables
and their exact limits, by bisection at 50 digits (mpmath), for the tables of two-proportions.json.

R's fisher.test stops its root search at about 1e-4, so its odds ratio and limits cannot serve at 1e-9.
Run: python3 tests/reference/scripts/make-fisher-conditional.py
"""
import json
import os
from mpmath import mp, mpf, binomial
import mpmath

mp.dps = 50
here = os.path.dirname(__file__)
with open(os.path.join(here, "..", "values", "two-proportions.json")) as file:
    cases = json.load(file)["values"]


def bisect(f):
    """Root in the odds ratio of an increasing function, on the log scale."""
    low, high = mpf(-60), mpf(60)
    for _ in range(200):
        middle = (low + high) / 2
        if f(mpmath.exp(middle)) > 0:
            high = middle
        else:
            low = middle
    return mpmath.exp((low + high) / 2)


rows = []
for case in cases:
    a, n1, c, n2 = case["x1"], case["n1"], case["x2"], case["n2"]
    column = a + c
    least, most = max(0, column - n2), min(column, n1)
    if least == most:
        continue
    weight = {k: binomial(n1, k) * binomial(n2, column - k) for k in range(least, most + 1)}

    def share(odds, keep):
        powers = {k: w * odds ** k for k, w in weight.items()}
        return mpmath.fsum(v * keep(k) for k, v in powers.items()) / mpmath.fsum(powers.values())

    tail = (1 - mpf(case["confLevel"])) / 2
    estimate = 0 if a == least else None if a == most else bisect(lambda o: share(o, lambda k: k) - a)
    lower = 0 if a == least else bisect(lambda o: share(o, lambda k: int(k >= a)) - tail)
    upper = None if a == most else bisect(lambda o: tail - share(o, lambda k: int(k <= a)))
    number = lambda v: None if v is None else float(v)
    rows.append({"x1": a, "n1": n1, "x2": c, "n2": n2, "confLevel": case["confLevel"],
                 "estimate": number(estimate), "lower": number(lower), "upper": number(upper)})

out = {
    "dataset": "inline",
    "call": "conditional maximum-likelihood odds ratio and exact limits, bisection at 50 digits",
    "rPackage": "mpmath",
    "version": "Python mpmath " + mpmath.__version__,
    "notes": "null for infinite",
    "values": rows,
}
with open(os.path.join(here, "..", "values", "fisher-conditional.json"), "w") as file:
    json.dump(out, file, indent=1)
    file.write("\n")
