"""Writes tests/reference/values/tails.json: distribution tails at arbitrary precision (mpmath), rounded to doubles.

Run: python3 tests/reference/scripts/make-tails.py   (needs mpmath; about a minute)
Every argument is the exact value of the double written, and a tail is summed at enough digits that its complement
loses nothing. A logarithm is given too, as it stays finite where the tail is below the smallest double.
"""
import json
import os
from mpmath import mp, mpf, betainc, binomial, erfc, exp, log, loggamma, sqrt, factorial
import mpmath

rows = []


def digits_for(small_exponent):
    mp.dps = int(45 + max(0, small_exponent))


def add(kind, args, lower, upper):
    row = {"distribution": kind, "arguments": args}
    for name, value in (("lower", lower), ("upper", upper)):
        row[name] = float(value) if value > mpf(10) ** -305 else None
        row["log" + name.capitalize()] = float(log(value))
    rows.append(row)


def lower_gamma(a, x):
    term = 1 / a
    total = term
    n = 0
    while term > total * mpf(10) ** (-mp.dps - 5):
        n += 1
        term *= x / (a + n)
        total += term
    return total * exp(a * log(x) - x - loggamma(a))


def gamma_tails(a, x):
    digits_for(0.5 * max(0.0, x - a) + 330)
    low = lower_gamma(mpf(a), mpf(x))
    return low, 1 - low


for z in (-37.5, -12.25, -5, -2.1, -1.9, -0.3, -1e-9, 1e-5, 0.7, 1.3, 1.96, 2.001, 3, 6.5, 10, 20, 30, 37, 60):
    mp.dps = 60 + (800 if abs(z) > 12 else 80)
    add("normal", [z], erfc(-mpf(z) / sqrt(2)) / 2, erfc(mpf(z) / sqrt(2)) / 2)

for df in (1, 2, 3, 4.5, 7, 20, 75, 400):
    for x in (1e-12, 0.001, 0.4, 1, 2.2, 3.84, 9, 30, 110, 450, 1300):
        low, up = gamma_tails(df / 2, x / 2)
        add("chi-square", [x, df], low, up)

for shape, rate, x in ((0.02, 1, 0.001), (0.3, 2, 0.1), (0.3, 2, 4), (0.9, 1, 0.999), (6.2, 0.5, 3), (50, 1, 250), (900, 3, 295)):
    low, up = gamma_tails(shape, mpf(x) * rate)
    add("gamma", [x, shape, rate], low, up)


def beta_tails(a, b, x, y):
    mp.dps = 400
    a, b = mpf(a), mpf(b)
    # 2F1 with all terms positive: x^a y^b / (a B) * 2F1(a + b, 1; a + 1; x)
    def side(a, b, x, y):
        term = mpf(1)
        total = mpf(1)
        n = 0
        while term > total * mpf(10) ** -400:
            term *= (a + b + n) / (a + 1 + n) * x
            total += term
            n += 1
        return exp(a * log(x) + b * log(y) - log(a) - (loggamma(a) + loggamma(b) - loggamma(a + b))) * total
    if x < y:
        low = side(a, b, x, y)
        return low, 1 - low
    up = side(b, a, y, x)
    return 1 - up, up


for a, b in ((0.5, 0.5), (0.5, 3), (2, 0.5), (2, 3.5), (1, 1), (30, 5), (40, 400), (250.5, 260)):
    for x in (1e-9, 0.003, 0.125, 0.31, 0.5, 0.74, 0.98):
        mp.dps = 400
        add("beta", [x, a, b], *beta_tails(a, b, mpf(x), 1 - mpf(x)))

for df in (1, 2, 3.5, 9, 30, 120, 1000):
    for t in (-8, -0.75, 1e-7, 0.2, 1, 2.1, 12.7, 40, 1e5):
        mp.dps = 400
        q = mpf(t) ** 2
        outside, within = beta_tails(mpf(df) / 2, mpf(1) / 2, df / (df + q), q / (df + q))
        small, large = outside / 2, 1 - outside / 2
        add("student-t", [t, df], *((large, small) if t > 0 else (small, large)))

for d1, d2 in ((1, 1), (1, 30), (3, 7.5), (8, 2), (20, 200), (200, 50)):
    for f in (1e-6, 0.03, 0.5, 1, 1.7, 6, 55, 1e4):
        mp.dps = 400
        r = d1 * mpf(f)
        add("f", [f, d1, d2], *beta_tails(mpf(d1) / 2, mpf(d2) / 2, r / (d2 + r), d2 / (d2 + r)))

for n, p in ((5, 0.3), (57, 0.81), (379, 0.116), (400, 0.5), (1000, 0.01)):
    mp.dps = 400
    P = mpf(p)
    mass = [binomial(n, k) * P ** k * (1 - P) ** (n - k) for k in range(n + 1)]
    for k in sorted({0, 1, n // 10, n // 3, n // 2, round(0.8 * n), n - 2}):
        add("binomial", [k, n, p], mpmath.fsum(mass[: k + 1]), mpmath.fsum(mass[k + 1 :]))

for mean in (0.001, 0.7, 4, 33.3, 250):
    for k in (0, 1, 3, 12, 40, 150, 300):
        mp.dps = 700
        m = mpf(mean)
        low = exp(-m) * mpmath.fsum(m ** j / factorial(j) for j in range(k + 1))
        add("poisson", [k, mean], low, lower_gamma(mpf(k + 1), m))

for size, marked, draws in ((8, 4, 4), (60, 21, 17), (114, 68, 57), (500, 250, 250), (1000, 40, 600)):
    mp.dps = 400
    least, most = max(0, draws - size + marked), min(marked, draws)
    mass = {k: binomial(marked, k) * binomial(size - marked, draws - k) / binomial(size, draws) for k in range(least, most + 1)}
    for k in sorted({least, least + 1, (2 * least + most) // 3, (least + most) // 2, (least + 3 * most) // 4, most - 1}):
        low = mpmath.fsum(v for j, v in mass.items() if j <= k)
        add("hypergeometric", [k, size, marked, draws], low, mpmath.fsum(v for j, v in mass.items() if j > k))

log_gamma = []
mp.dps = 60
for x in (1e-10, 0.01, 0.2, 0.5, 0.9999999, 1.0000001, 1.3, 1.5, 1.7, 1.999, 2.0001, 2.5, 2.9, 3.5, 7, 15.9, 16.1, 44.5, 300, 1e6):
    log_gamma.append({"x": x, "value": float(loggamma(mpf(x)))})

out = {
    "dataset": "inline",
    "call": "lower and upper tails and their natural logarithms by arbitrary-precision series; null where below 1e-305",
    "rPackage": "mpmath",
    "version": "Python mpmath " + mpmath.__version__,
    "notes": "beta arguments x, a, b; hypergeometric arguments count, size, marked, draws; upper means more than",
    "values": {"tails": rows, "logGamma": log_gamma},
}
path = os.path.join(os.path.dirname(__file__), "..", "values", "tails.json")
with open(path, "w") as file:
    file.write("{\n" + ",\n".join(f" {json.dumps(k)}: {json.dumps(v)}" for k, v in out.items() if k != "values"))
    file.write(',\n "values": {\n  "tails": [\n' + ",\n".join("   " + json.dumps(r) for r in rows))
    file.write('\n  ],\n  "logGamma": [\n' + ",\n".join("   " + json.dumps(r) for r in log_gamma) + "\n  ]\n }\n}\n")
